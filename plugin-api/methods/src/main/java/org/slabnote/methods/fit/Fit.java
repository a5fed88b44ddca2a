package org.slabnote.methods.fit;

import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.QRDecomposition;
import org.apache.commons.math3.linear.RealMatrix;

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

  /** Sine of the angle between a column and the others that counts as none: errors of differences. */
  private static final double SMALLEST_PIVOT = 1e-9;

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

  /** Covariance by QR of the column-scaled Jacobian: J'J is never formed, which would halve digits. */
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
    double[][] inverse = new double[p][p];
    for (double[] row : inverse) {
      java.util.Arrays.fill(row, Double.NaN);
    }
    double total = 0;
    for (double r : weightedResiduals) {
      total += r * r;
    }
    double along = 0;
    double largestStep = 0;
    if (free > 0) {
      double[] norms = new double[free];
      double[][] part = new double[n][free];
      for (int c = 0; c < free; c++) {
        double sum = 0;
        for (int i = 0; i < n; i++) {
          sum += jacobian[i][places[c]] * jacobian[i][places[c]];
        }
        norms[c] = Math.sqrt(sum);
        if (norms[c] == 0) {
          throw undetermined(name, places[c]);
        }
        for (int i = 0; i < n; i++) {
          part[i][c] = jacobian[i][places[c]] / norms[c];
        }
      }
      QRDecomposition qr = new QRDecomposition(new Array2DRowRealMatrix(part, false));
      RealMatrix r = qr.getR();
      double[] turned = qr.getQT().operate(weightedResiduals);
      for (int c = 0; c < free; c++) {
        along += turned[c] * turned[c];
                if (Math.abs(r.getEntry(c, c)) < SMALLEST_PIVOT) {
          throw undetermined(name, places[c]);
        }
      }
      double[][] back = inverseOfUpper(r, free);
      for (int a = 0; a < free; a++) {
        double step = 0;
        for (int c = a; c < free; c++) {
          step += back[a][c] * turned[c];
        }
        largestStep = Math.max(largestStep, Math.abs(step / norms[a]));
        for (int b = 0; b < free; b++) {
          double sum = 0;
          for (int c = 0; c < free; c++) {
            sum += back[a][c] * back[b][c];
          }
          int ka = places[a];
          int kb = places[b];
          inverse[ka][kb] = sum / (norms[a] * norms[b]) * size[ka] * size[kb];
        }
      }
    }
    double across = Math.max(total - along, 0);
    int freedom = n - free;
    double offset;
    if (largestStep < SMALLEST_STEP) {
      offset = 0; // also where the data lie on the curve, and both parts are rounding
    } else {
      offset = Math.sqrt(along / free) / Math.sqrt(across / Math.max(freedom, 0));
    }
    double variance = freedom > 0 ? total / freedom : Double.NaN;
    return new Fit(
        parameters.clone(), held.clone(), weightedResiduals, residuals, weights.clone(), inverse,
        variance, offset, free);
  }

  private static double[][] inverseOfUpper(RealMatrix r, int size) {
    double[][] x = new double[size][size];
    for (int column = 0; column < size; column++) {
      for (int row = column; row >= 0; row--) {
        double sum = row == column ? 1 : 0;
        for (int k = row + 1; k <= column; k++) {
          sum -= r.getEntry(row, k) * x[k][column];
        }
        x[row][column] = sum / r.getEntry(row, row);
      }
    }
    return x;
  }

  private static NoConvergenceException undetermined(String name, int parameter) {
    return new NoConvergenceException(
        name + ": the observations do not determine parameter " + parameter
            + " (counted from 0) apart from the others. Fix it, or add observations that depend on it");
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
        parameters, held, weightedResiduals, residuals, weights, unweighted.inverse, variance,
        relativeOffset, free);
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
