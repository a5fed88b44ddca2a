package org.slabnote.methods.fit;

import java.util.Arrays;

/**
 * Result of a least-squares fit.
 *
 * <p>Covariances contain the residual variance {@code RSS / (n - p)}. Where the observations' standard
 * uncertainties were stated, {@link #statedDeviation} gives the figure from those alone; the greater of
 * the two is the prudent one. With as many observations as parameters there is no residual variance
 * and the deviations are NaN.
 *
 * @since 0.1
 */
public final class Fit {
  /** Next Gauss-Newton step, in scaled unknowns (of order one), that counts as none. */
  private static final double SMALLEST_STEP = 1e-10;

  private final double[] parameters;
  private final boolean[] held;
  private final double[] weightedResiduals;
  private final double[] residuals;
  private final double[] weights;
  private final double[][] inverse; // (J'J)^-1 in the caller's units
  private final double factor; // times this gives the covariance
  private final double relativeOffset;
  private final int free;

  private Fit(
      double[] parameters,
      boolean[] held,
      double[] weightedResiduals,
      double[] residuals,
      double[] weights,
      double[][] inverse,
      double factor,
      double relativeOffset,
      int free) {
    this.parameters = parameters;
    this.held = held;
    this.weightedResiduals = weightedResiduals;
    this.residuals = residuals;
    this.weights = weights;
    this.inverse = inverse;
    this.factor = factor;
    this.relativeOffset = relativeOffset;
    this.free = free;
  }

  /** Judges a point: its covariance and how far it is from a minimum. */
  static Fit of(
      double[] parameters,
      double[] size,
      boolean[] held,
      double[] weightedResiduals,
      double[][] jacobian,
      double[] weights,
      double[] residuals,
      String name) {
    int n = weightedResiduals.length;
    int p = parameters.length;
    int free = 0;
    int[] places = new int[p];
    for (int k = 0; k < p; k++) {
      if (!held[k]) {
        places[free++] = k;
      }
    }
    double total = 0;
    for (double r : weightedResiduals) {
      total += r * r;
    }
    Decomposition qr =
        Decomposition.of(jacobian, Arrays.copyOf(places, free), size, weightedResiduals, name);
    double across = Math.max(total - qr.along(), 0);
    int freedom = n - free;
    double offset;
    if (qr.largestStep() < SMALLEST_STEP) {
      offset = 0; // also where the data lie on the curve, and both parts are rounding
    } else {
      offset = Math.sqrt(qr.along() / free) / Math.sqrt(across / Math.max(freedom, 0));
    }
    double variance = freedom > 0 ? total / freedom : Double.NaN;
    return new Fit(
        parameters.clone(),
        held.clone(),
        weightedResiduals,
        residuals,
        weights.clone(),
        qr.inverse(),
        variance,
        offset,
        free);
  }

  /** Huber 1981: K^2 (sum psi^2 / (n - p)) / (mean psi')^2 (J'J)^-1, J without robust weights. */
  Fit withHuberCovariance(double k, double scale, Fit unweighted) {
    int n = residuals.length;
    double psiSquares = 0;
    double inner = 0;
    for (int i = 0; i < n; i++) {
      double z = weightedResidual(i) / scale;
      double psi = Math.max(-k, Math.min(k, z));
      psiSquares += psi * psi;
      inner += Math.abs(z) <= k ? 1 : 0;
    }
    double mean = inner / n;
    double correction = 1 + free / (double) n * (1 - mean) / mean;
    double variance =
        correction * correction * psiSquares * scale * scale / (n - free) / (mean * mean);
    return new Fit(
        parameters,
        held,
        weightedResiduals,
        residuals,
        weights,
        unweighted.inverse,
        variance,
        relativeOffset,
        free);
  }

  boolean[] held() {
    return held.clone();
  }

  double relativeOffset() {
    return relativeOffset;
  }

  /** Residual over stated uncertainty, without robust weight. */
  double weightedResidual(int i) {
    return weightedResiduals[i] / Math.sqrt(weights[i]);
  }

  /**
   * Number of observations.
   *
   * @return n
   */
  public int observations() {
    return residuals.length;
  }

  /**
   * Observations less fitted parameters (those held at a bound not counted).
   *
   * @return n - p
   */
  public int degreesOfFreedom() {
    return residuals.length - free;
  }

  /**
   * A fitted parameter.
   *
   * @param k number of the parameter, from 0
   * @return value in the caller's unit
   */
  public double parameter(int k) {
    return parameters[k];
  }

  /**
   * All fitted parameters.
   *
   * @return new array
   */
  public double[] parameters() {
    return parameters.clone();
  }

  /**
   * Whether a parameter ended on a bound, so that the data wanted it farther out.
   *
   * @param k number of the parameter, from 0
   * @return true if held at a bound
   */
  public boolean atBound(int k) {
    return held[k];
  }

  /**
   * Standard deviation of a parameter: {@code sqrt(covariance(k, k))}.
   *
   * @param k number of the parameter, from 0
   * @return standard deviation; NaN if held at a bound or without degrees of freedom
   */
  public double standardDeviation(int k) {
    return Math.sqrt(covariance(k, k));
  }

  /**
   * Standard deviation from the stated uncertainties alone: {@code sqrt((J'J)^-1_kk)}.
   *
   * @param k number of the parameter, from 0
   * @return standard deviation; NaN if held at a bound; meaningless if no uncertainties were stated
   */
  public double statedDeviation(int k) {
    return Math.sqrt(inverse[k][k]);
  }

  /**
   * Covariance of two parameters: {@code (J'J)^-1 RSS / (n - p)}.
   *
   * @param j number of one parameter
   * @param k number of the other
   * @return covariance; NaN if one is held at a bound or without degrees of freedom
   */
  public double covariance(int j, int k) {
    return inverse[j][k] * factor;
  }

  /**
   * Correlation coefficient of two parameters.
   *
   * @param j number of one parameter
   * @param k number of the other
   * @return -1 to 1; NaN if one is held at a bound
   */
  public double correlation(int j, int k) {
    return inverse[j][k] / Math.sqrt(inverse[j][j] * inverse[k][k]);
  }

  /**
   * Observed less fitted value.
   *
   * @param i number of the observation, from 0
   * @return residual in the observation's unit
   */
  public double residual(int i) {
    return residuals[i];
  }

  /**
   * All residuals.
   *
   * @return new array
   */
  public double[] residuals() {
    return residuals.clone();
  }

  /**
   * Robust weight of an observation: 1 without robust loss or inside its limit.
   *
   * @param i number of the observation, from 0
   * @return above 0, up to 1
   */
  public double weight(int i) {
    return weights[i];
  }

  /**
   * Sum of squares that was minimised: residuals over stated uncertainties, robust weights included.
   *
   * @return RSS, or chi-square where uncertainties were stated
   */
  public double sumOfSquares() {
    double sum = 0;
    for (double r : weightedResiduals) {
      sum += r * r;
    }
    return sum;
  }

  /**
   * Residual standard deviation {@code sqrt(RSS / (n - p))}: about 1 where uncertainties were stated and
   * the model holds.
   *
   * @return standard deviation; NaN without degrees of freedom
   */
  public double residualStandardDeviation() {
    int freedom = degreesOfFreedom();
    return freedom > 0 ? Math.sqrt(sumOfSquares() / freedom) : Double.NaN;
  }
}
