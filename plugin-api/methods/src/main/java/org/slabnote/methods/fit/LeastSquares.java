package org.slabnote.methods.fit;

import java.util.Arrays;
import org.apache.commons.math3.exception.ConvergenceException;
import org.apache.commons.math3.exception.TooManyEvaluationsException;
import org.apache.commons.math3.exception.TooManyIterationsException;
import org.apache.commons.math3.fitting.leastsquares.LeastSquaresFactory;
import org.apache.commons.math3.fitting.leastsquares.LeastSquaresProblem;
import org.apache.commons.math3.fitting.leastsquares.LevenbergMarquardtOptimizer;
import org.apache.commons.math3.fitting.leastsquares.MultivariateJacobianFunction;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.linear.RealMatrix;
import org.apache.commons.math3.linear.RealVector;
import org.apache.commons.math3.util.Pair;
import org.jspecify.annotations.Nullable;

/**
 * Non-linear least squares by Levenberg-Marquardt, with uncertainties and an optional robust loss.
 *
 * <p>Minimises {@code sum of ((y_i - f_i(p)) / u_i)^2}, u_i the stated standard uncertainties (1 where
 * none are stated). Parameter covariance: {@code (J'J)^-1 RSS / (n - p)}, J the Jacobian of {@code f_i /
 * u_i}; see {@link Fit}. The unknowns are divided by their scales, so that all are of order one.
 * Without a Jacobian, differences {@code (f(p + h) - f(p - h)) / 2h} are taken, h = 6e-6 of the scale or
 * of the value, whichever is greater.
 *
 * <p>Start: given by the caller. Stops when cost and parameters change by less than 1e-13 relative, or
 * residuals and Jacobian are orthogonal to that degree. Accepted only if the relative offset (Bates and
 * Watts 1981, Technometrics 23, 179-183) is below 1e-3: the remaining error is then below a thousandth
 * of a standard deviation. Otherwise {@link NoConvergenceException}; a last iterate is never returned.
 *
 * <p>Bounds: trial points are brought back into them; a parameter that ends on a bound with the cost
 * falling beyond it is held there, the others are fitted again, and {@link Fit#atBound} tells it. Its
 * standard deviation is NaN: unknown.
 *
 * <p>Robust: Huber's loss with constant k by iteratively reweighted least squares, scale = median of
 * |r| / 0.6745 anew each time, until no parameter moves by more than 1e-9 of its scale; covariance
 * after Huber, Robust Statistics, 1981, ch. 7 (proposal 1).
 *
 * <p>Source: More 1978, Lecture Notes in Mathematics 630, as in Commons Math 3.6.1. Check: values and
 * standard deviations of the NIST StRD sets.
 *
 * @since 0.1
 */
public final class LeastSquares {

  /** Model values at given parameters. Must be a pure function. */
  @FunctionalInterface
  public interface Model {
    /**
     * Computes all model values.
     *
     * @param parameters current parameters, in the caller's units; not to be changed
     * @param values to be filled, one for each observation
     */
    void values(double[] parameters, double[] values);
  }

  /** Derivatives of the model at given parameters. */
  @FunctionalInterface
  public interface Derivatives {
    /**
     * Computes all derivatives.
     *
     * @param parameters current parameters, in the caller's units; not to be changed
     * @param jacobian to be filled: {@code jacobian[i][k]} is df_i / dp_k
     */
    void jacobian(double[] parameters, double[][] jacobian);
  }

  private static final double TOLERANCE = 1e-13;
  private static final double MOST_OFFSET = 1e-3;
  private static final int MOST_ROBUST_ROUNDS = 200;

  private final String name;
  private final Misfit misfit;
  private double @Nullable [] scales;
  private double huber = Double.POSITIVE_INFINITY;
  private int mostEvaluations = 5000;

  private LeastSquares(String name, Model model, double[] observed) {
    this.name = name;
    this.misfit = new Misfit(name, model, observed.clone());
  }

  /**
   * Starts the description of a fit.
   *
   * @param name what is fitted, for messages: "hyperbola fit"
   * @param model model
   * @param observed observations
   * @return description, to be completed and then solved
   */
  public static LeastSquares of(String name, Model model, double[] observed) {
    return new LeastSquares(name, model, observed);
  }

  /**
   * States the standard uncertainties of the observations.
   *
   * @param values one for each observation, above 0
   * @return this
   * @throws IllegalArgumentException if a value is not above 0 or the count differs
   */
  public LeastSquares uncertainties(double... values) {
    if (values.length != misfit.observations()) {
      throw bad(values.length + " uncertainties for " + misfit.observations() + " observations");
    }
    for (int i = 0; i < values.length; i++) {
      if (!(values[i] > 0) || Double.isInfinite(values[i])) {
        throw bad("uncertainty " + i + " = " + values[i] + "; expected above 0");
      }
    }
    misfit.uncertainties = values.clone();
    return this;
  }

  /**
   * States the size of each unknown: by about how much it may change. Default: the start's modulus.
   *
   * @param values one for each parameter, above 0
   * @return this
   */
  public LeastSquares scales(double... values) {
    scales = values.clone();
    return this;
  }

  /**
   * Bounds of the parameters.
   *
   * @param lowest lower bounds, negative infinity where there is none
   * @param highest upper bounds, positive infinity where there is none
   * @return this
   */
  public LeastSquares bounds(double[] lowest, double[] highest) {
    misfit.low = lowest.clone();
    misfit.high = highest.clone();
    return this;
  }

  /**
   * Gives the model's derivatives instead of differences.
   *
   * @param exact derivatives
   * @return this
   */
  public LeastSquares derivatives(Derivatives exact) {
    misfit.derivatives = exact;
    return this;
  }

  /**
   * Asks for Huber's loss: residuals beyond k robust standard deviations count linearly.
   *
   * @param k usually 1.345 (95 % efficiency for normal errors), above 0
   * @return this
   */
  public LeastSquares robust(double k) {
    if (!(k > 0)) {
      throw bad("robust constant = " + k + "; expected above 0, usually 1.345");
    }
    huber = k;
    return this;
  }

  /**
   * Limits the work. Default 5000.
   *
   * @param count most evaluations of the model with its derivatives
   * @return this
   */
  public LeastSquares mostEvaluations(int count) {
    mostEvaluations = count;
    return this;
  }

  /**
   * Solves.
   *
   * @param start first guess of each parameter, inside the bounds
   * @return the fit
   * @throws IllegalArgumentException if counts do not fit, the start is outside the bounds, or the model
   *     has no finite value there
   * @throws NoConvergenceException if no minimum was reached
   */
  public Fit solve(double... start) {
    int p = start.length;
    if (misfit.observations() < p || p == 0) {
      throw bad(misfit.observations() + " observations for " + p
          + " parameters; expected at least as many, and one parameter or more");
    }
    double[] size = sizes(start);
    checkStart(start);
    double[] weights = new double[misfit.observations()];
    Arrays.fill(weights, 1);
    Fit fit = boundedSolve(start, size, weights);
    if (scales == null) {
      // a start far off gives poor steps for the differences: again, from sizes that the fit tells
      for (int k = 0; k < p; k++) {
        double told = Math.max(Math.abs(fit.parameter(k)), finite(fit.standardDeviation(k)));
        size[k] = Math.max(1e-3 * size[k], Math.min(size[k], told));
      }
      fit = boundedSolve(fit.parameters(), size, weights);
    }
    if (Double.isInfinite(huber)) {
      return fit;
    }
    for (int round = 0; round < MOST_ROBUST_ROUNDS; round++) {
      double scale = robustScale(fit);
      if (scale == 0) {
        return fit; // more than half of the observations lie exactly on the curve
      }
      for (int i = 0; i < weights.length; i++) {
        double z = Math.abs(fit.weightedResidual(i)) / scale;
        weights[i] = z <= huber ? 1 : huber / z;
      }
      Fit next = boundedSolve(fit.parameters(), size, weights);
      double moved = 0;
      for (int k = 0; k < p; k++) {
        moved = Math.max(moved, Math.abs(next.parameter(k) - fit.parameter(k)) / size[k]);
      }
      fit = next;
      if (moved < 1e-9) {
        Arrays.fill(weights, 1);
        Fit plain = misfit.fit(fit.parameters(), size, fit.held(), weights);
        return fit.withHuberCovariance(huber, robustScale(fit), plain);
      }
    }
    throw new NoConvergenceException(
        name + ": robust weights still change after " + MOST_ROBUST_ROUNDS
            + " rounds. Drop the worst observations, or fit without robust weights");
  }

  private static double finite(double value) {
    return Double.isNaN(value) || Double.isInfinite(value) ? 0 : value;
  }

  private static double robustScale(Fit fit) {
    double[] moduli = new double[fit.observations()];
    for (int i = 0; i < moduli.length; i++) {
      moduli[i] = Math.abs(fit.weightedResidual(i));
    }
    return RobustFigures.median(moduli) / 0.6744897501960817;
  }

  /** Fits; parameters pushed against a bound are held there and the rest fitted again. */
  private Fit boundedSolve(double[] start, double[] size, double[] weights) {
    boolean[] held = new boolean[start.length];
    double[] from = start.clone();
    for (int round = 0; round <= start.length; round++) {
      int[] free = freeOf(held);
      if (free.length > 0) {
        from = minimise(from, free, size, weights);
      }
      double[][] jacobian = new double[misfit.observations()][start.length];
      double[] residuals = misfit.weighted(from, size, weights, jacobian);
      boolean more = false;
      for (int k = 0; k < start.length; k++) {
        if (!held[k] && misfit.pushed(k, from[k], jacobian, residuals)) {
          held[k] = true;
          more = true;
        }
      }
      if (!more) {
        Fit fit = misfit.fit(from, size, held, weights);
        if (fit.relativeOffset() > MOST_OFFSET) {
          throw new NoConvergenceException(
              name + ": stopped at " + Arrays.toString(from) + " with relative offset "
                  + fit.relativeOffset() + "; expected below " + MOST_OFFSET
                  + ". Start nearer, state scales, or fit fewer unknowns");
        }
        return fit;
      }
    }
    throw new NoConvergenceException(
        name + ": every parameter ended on a bound. Widen the bounds, or start nearer");
  }

  private double[] minimise(double[] from, int[] free, double[] size, double[] weights) {
    double[] best = from.clone();
    double[] bestCost = {Double.POSITIVE_INFINITY};
    MultivariateJacobianFunction function = point -> {
      double[] all = from.clone();
      for (int k = 0; k < free.length; k++) {
        all[free[k]] = misfit.inside(free[k], point.getEntry(k) * size[free[k]]);
      }
      double[][] jacobian = new double[misfit.observations()][all.length];
      double[] residuals = misfit.weighted(all, size, weights, jacobian);
      double cost = 0;
      double[] values = new double[residuals.length];
      double[][] part = new double[residuals.length][free.length];
      for (int i = 0; i < residuals.length; i++) {
        cost += residuals[i] * residuals[i];
        values[i] = -residuals[i];
        for (int k = 0; k < free.length; k++) {
          part[i][k] = jacobian[i][free[k]];
        }
      }
      if (cost < bestCost[0]) {
        bestCost[0] = cost;
        System.arraycopy(all, 0, best, 0, all.length);
      }
      RealVector vector = new ArrayRealVector(values, false);
      RealMatrix matrix = new Array2DRowRealMatrix(part, false);
      return new Pair<>(vector, matrix);
    };
    double[] scaledStart = new double[free.length];
    for (int k = 0; k < free.length; k++) {
      scaledStart[k] = from[free[k]] / size[free[k]];
    }
    LeastSquaresProblem problem = LeastSquaresFactory.create(
        function,
        new ArrayRealVector(misfit.observations()),
        new ArrayRealVector(scaledStart, false),
        null,
        null,
        mostEvaluations,
        mostEvaluations,
        false,
        point -> insideScaled(point, free, size));
    try {
      new LevenbergMarquardtOptimizer()
          .withCostRelativeTolerance(TOLERANCE)
          .withParameterRelativeTolerance(TOLERANCE)
          .withOrthoTolerance(TOLERANCE)
          .optimize(problem);
    } catch (TooManyEvaluationsException | TooManyIterationsException e) {
      throw new NoConvergenceException(
          name + ": no minimum after " + mostEvaluations + " evaluations, best at "
              + Arrays.toString(best) + ". Start nearer, or fit fewer unknowns");
    } catch (ConvergenceException e) {
      // the tolerances are at rounding: the best point is judged by its relative offset below
      return best;
    }
    return best;
  }

  private RealVector insideScaled(RealVector point, int[] free, double[] size) {
    RealVector moved = point.copy();
    for (int k = 0; k < free.length; k++) {
      moved.setEntry(k, misfit.inside(free[k], point.getEntry(k) * size[free[k]]) / size[free[k]]);
    }
    return moved;
  }

  private double[] sizes(double[] start) {
    double[] size = new double[start.length];
    if (scales != null && scales.length != start.length) {
      throw bad(scales.length + " scales for " + start.length + " parameters");
    }
    for (int k = 0; k < size.length; k++) {
      size[k] = scales != null ? scales[k] : start[k] == 0 ? 1 : Math.abs(start[k]);
      if (!(size[k] > 0) || Double.isInfinite(size[k])) {
        throw bad("scale of parameter " + k + " = " + size[k] + "; expected above 0");
      }
    }
    return size;
  }

  private void checkStart(double[] start) {
    if (!misfit.boundsFit(start.length)) {
      throw bad("bounds for another number of parameters than " + start.length);
    }
    for (int k = 0; k < start.length; k++) {
      if (!(misfit.inside(k, start[k]) == start[k]) || Double.isInfinite(start[k])) {
        throw bad(
            "start of parameter " + k + " = " + start[k] + "; expected a number inside the bounds");
      }
    }
    for (double value : misfit.observedLess(start)) {
      if (Double.isNaN(value) || Double.isInfinite(value)) {
        throw bad(
            "the model or an observation is not finite at the start " + Arrays.toString(start));
      }
    }
  }

  private static int[] freeOf(boolean[] held) {
    int count = 0;
    for (boolean one : held) {
      count += one ? 0 : 1;
    }
    int[] free = new int[count];
    int next = 0;
    for (int k = 0; k < held.length; k++) {
      if (!held[k]) {
        free[next++] = k;
      }
    }
    return free;
  }

  private IllegalArgumentException bad(String what) {
    return new IllegalArgumentException(name + ": " + what);
  }
}
