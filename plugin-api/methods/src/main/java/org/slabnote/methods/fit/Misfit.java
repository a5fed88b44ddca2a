package org.slabnote.methods.fit;

import org.jspecify.annotations.Nullable;

/** Observations against a model: residuals, their derivatives, and the bounds of the parameters. */
final class Misfit {

  /** Weighted misfit of an impossible trial point: far above any real one, its square still finite. */
  private static final double IMPOSSIBLE = 1e100;

  private final String name;
  private final LeastSquares.Model model;
  private final double[] observed;
  double @Nullable [] uncertainties;
  double @Nullable [] low;
  double @Nullable [] high;
  LeastSquares.@Nullable Derivatives derivatives;

  Misfit(String name, LeastSquares.Model model, double[] observed) {
    this.name = name;
    this.model = model;
    this.observed = observed;
  }

  int observations() {
    return observed.length;
  }

  boolean boundsFit(int parameters) {
    return (low == null || low.length == parameters) && (high == null || high.length == parameters);
  }

  /** The fit as it stands at a point. */
  Fit fit(double[] at, double[] size, boolean[] held, double[] weights) {
    double[][] jacobian = new double[observed.length][at.length];
    double[] residuals = weighted(at, size, weights, jacobian);
    return Fit.of(at, size, held, residuals, jacobian, weights, observedLess(at), name);
  }

  /** On a bound, and the cost falls beyond it. */
  boolean pushed(int k, double value, double[][] jacobian, double[] residuals) {
    boolean atLow = low != null && value <= low[k];
    boolean atHigh = high != null && value >= high[k];
    if (!atLow && !atHigh) {
      return false;
    }
    double downhill = 0; // direction in which the cost falls
    for (int i = 0; i < residuals.length; i++) {
      downhill += jacobian[i][k] * residuals[i];
    }
    return atLow ? downhill <= 0 : downhill >= 0;
  }

  double inside(int k, double value) {
    double bounded = low == null ? value : Math.max(low[k], value);
    return high == null ? bounded : Math.min(high[k], bounded);
  }

  /** Weighted residuals (observed less model); fills the weighted Jacobian per scaled unknown. */
  double[] weighted(double[] parameters, double[] size, double[] weights, double[][] jacobian) {
    double[] residuals = observedLess(parameters);
    slopes(parameters, size, jacobian);
    for (int i = 0; i < residuals.length; i++) {
      double factor = Math.sqrt(weights[i]) / (uncertainties == null ? 1 : uncertainties[i]);
      double misfit = residuals[i] * factor;
      residuals[i] = Math.abs(misfit) < IMPOSSIBLE ? misfit : IMPOSSIBLE; // NaN too
      for (int k = 0; k < parameters.length; k++) {
        double slope = jacobian[i][k] * factor * size[k];
        jacobian[i][k] = Math.abs(slope) < IMPOSSIBLE ? slope : 0;
      }
    }
    return residuals;
  }

  double[] observedLess(double[] parameters) {
    double[] values = new double[observed.length];
    model.values(parameters.clone(), values);
    for (int i = 0; i < values.length; i++) {
      values[i] = observed[i] - values[i];
    }
    return values;
  }

  private void slopes(double[] parameters, double[] size, double[][] jacobian) {
    if (derivatives != null) {
      derivatives.jacobian(parameters.clone(), jacobian);
      return;
    }
    double[] above = new double[observed.length];
    double[] below = new double[observed.length];
    for (int k = 0; k < parameters.length; k++) {
      double step = 6e-6 * Math.max(size[k], Math.abs(parameters[k]));
      double[] moved = parameters.clone();
      double to = inside(k, parameters[k] + step);
      double from = inside(k, parameters[k] - step);
      moved[k] = to;
      model.values(moved, above);
      moved = parameters.clone();
      moved[k] = from;
      model.values(moved, below);
      for (int i = 0; i < observed.length; i++) {
        jacobian[i][k] = (above[i] - below[i]) / (to - from);
      }
    }
  }
}
