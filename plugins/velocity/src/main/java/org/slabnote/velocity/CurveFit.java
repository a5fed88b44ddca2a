package org.slabnote.velocity;

import java.util.Arrays;
import org.slabnote.methods.fit.Fit;
import org.slabnote.methods.fit.LeastSquares;
import org.slabnote.methods.fit.NoConvergenceException;
import org.slabnote.methods.fit.RobustFigures;
import org.slabnote.methods.path.TravelTime;

/**
 * Fit of velocity, cover and apex to echo times along a diffraction, by the exact two-antenna path.
 *
 * <p>{@code t = L(x - x0, h, a, s) / v}, L the shortest path over the cylinder. Levenberg-Marquardt;
 * Tukey's biweight (constant 4.685) against wrong picks, three rounds, scale from the median
 * modulus. The start is an ordinary fit with Huber's milder weights, so that a far start does not
 * throw good picks away.
 */
final class CurveFit {
  private static final double TUKEY = 4.685;
  private static final double HUBER = 1.345;
  private static final double LEAST_V = 0.055;
  private static final double MOST_V = 0.25;
  private static final double LEAST_COVER = 0.003;
  private static final double MOST_COVER = 3;

  private final double[] x;
  private final double[] stated;
  private final double[] weights;
  private final double[] residuals;
  private final double radius;
  private final double separation;
  private final double[] p;
  private final boolean saturated;

  private CurveFit(
      double[] x, double[] stated, double[] weights, double radius, double separation, Fit fit) {
    this.x = x;
    this.stated = stated;
    this.weights = weights;
    this.radius = radius;
    this.separation = separation;
    this.p = fit.parameters();
    this.residuals = fit.residuals();
    this.saturated = fit.atBound(0) || fit.atBound(1) || fit.atBound(2);
  }

  /**
   * Fits.
   *
   * @param x antenna midpoints along the pass, m
   * @param t echo times from the surface, ns
   * @param u standard uncertainty of each, ns
   * @param start velocity, cover, apex
   * @throws NoConvergenceException if the picks do not determine the curve
   */
  static CurveFit of(
      double[] x, double[] t, double[] u, double radius, double separation, double[] start) {
    double[] weights = new double[x.length];
    Arrays.fill(weights, 1);
    double[] from = start.clone();
    Fit fit = null;
    for (int round = 0; round < 4; round++) {
      fit = solve(x, t, u, weights, radius, separation, from);
      from = fit.parameters();
      if (round == 3) {
        break;
      }
      double[] moduli = new double[x.length];
      for (int i = 0; i < moduli.length; i++) {
        moduli[i] = Math.abs(fit.residual(i)) / u[i];
      }
      double scale = Math.max(RobustFigures.median(moduli) / 0.6745, 1e-6);
      for (int i = 0; i < weights.length; i++) {
        double z = moduli[i] / scale;
        // a weight of nearly nothing keeps the count, which the solver wants
        weights[i] = round == 0
            ? Math.min(1, HUBER / Math.max(z, 1e-9))
            : Math.max(biweight(z / TUKEY), 1e-8);
      }
    }
    return new CurveFit(x, u, weights, radius, separation, java.util.Objects.requireNonNull(fit));
  }

  private static double biweight(double z) {
    double inside = 1 - z * z;
    return z < 1 ? inside * inside : 0;
  }

  private static Fit solve(
      double[] x,
      double[] t,
      double[] u,
      double[] weights,
      double radius,
      double s,
      double[] start) {
    double[] uncertainties = new double[x.length];
    for (int i = 0; i < x.length; i++) {
      uncertainties[i] = u[i] / Math.sqrt(weights[i]);
    }
    double[] from = {
      Math.min(MOST_V, Math.max(LEAST_V, start[0])),
      Math.min(MOST_COVER, Math.max(LEAST_COVER, start[1])),
      start[2]
    };
    return LeastSquares.of(
            "hyperbola fit",
            (q, values) -> {
              for (int i = 0; i < values.length; i++) {
                values[i] = TravelTime.cylinderLength(x[i] - q[2], q[1], radius, s) / q[0];
              }
            },
            t)
        .derivatives((q, jacobian) -> {
          for (int i = 0; i < jacobian.length; i++) {
            fill(jacobian[i], x[i], q, radius, s);
          }
        })
        .uncertainties(uncertainties)
        .scales(0.02, 0.03, 0.02)
        .bounds(
            new double[] {LEAST_V, LEAST_COVER, Double.NEGATIVE_INFINITY},
            new double[] {MOST_V, MOST_COVER, Double.POSITIVE_INFINITY})
        .mostEvaluations(200)
        .solve(from);
  }

  private static double fill(double[] row, double x, double[] q, double radius, double s) {
    TravelTime.Path path = TravelTime.cylinderPath(x - q[2], q[1], radius, s, Math.PI / 2);
    row[0] = -path.length() / (q[0] * q[0]);
    row[1] = path.perCover() / q[0];
    row[2] = -path.perX() / q[0];
    return path.perRadius() / q[0];
  }

  double velocity() {
    return p[0];
  }

  double cover() {
    return p[1];
  }

  double apex() {
    return p[2];
  }

  /** Whether a parameter ended on a bound. */
  boolean saturated() {
    return saturated;
  }

  double residual(int i) {
    return residuals[i];
  }

  /** Whether a pick counts: its robust weight is above a quarter. */
  boolean counts(int i) {
    return weights[i] > 0.25;
  }

  /** Time by the curve, ns. */
  double timeAt(double place) {
    return TravelTime.cylinderLength(place - p[2], p[1], radius, separation) / p[0];
  }

  /** Root of the weighted mean square residual over n - 3, ns. */
  double scatter() {
    double sum = 0;
    double total = 0;
    for (int i = 0; i < x.length; i++) {
      sum += weights[i] * residuals[i] * residuals[i];
      total += weights[i];
    }
    return Math.sqrt(sum / Math.max(1, total - 3));
  }

  /**
   * How velocity and cover answer to changes of the times and of the radius, to first order.
   *
   * @param perTime {@code perTime[k][i]}: derivative of unknown k by time i
   * @param perRadius derivative of unknown k by the assumed radius
   */
  record Response(double[][] perTime, double[] perRadius) {
    /** Change of unknown k where every time changes by {@code change[i]}. */
    double to(int k, double[] change) {
      double sum = 0;
      for (int i = 0; i < change.length; i++) {
        sum += perTime[k][i] * change[i];
      }
      return sum;
    }
  }

  Response response() {
    int n = x.length;
    double[][] jacobian = new double[n][3];
    double[] byRadius = new double[n];
    double[][] normal = new double[3][3];
    double[] w = new double[n];
    for (int i = 0; i < n; i++) {
      byRadius[i] = fill(jacobian[i], x[i], p, radius, separation);
      w[i] = weights[i] / (stated[i] * stated[i]);
      for (int a = 0; a < 3; a++) {
        for (int b = 0; b < 3; b++) {
          normal[a][b] += w[i] * jacobian[i][a] * jacobian[i][b];
        }
      }
    }
    double[][] inverse = inverse(normal);
    double[][] perTime = new double[3][n];
    double[] perRadius = new double[3];
    for (int k = 0; k < 3; k++) {
      for (int i = 0; i < n; i++) {
        double sum = 0;
        for (int b = 0; b < 3; b++) {
          sum += inverse[k][b] * jacobian[i][b];
        }
        perTime[k][i] = sum * w[i];
        perRadius[k] -= perTime[k][i] * byRadius[i];
      }
    }
    return new Response(perTime, perRadius);
  }

  /** Inverse of a symmetric 3 by 3 matrix by cofactors, rows scaled to a unit diagonal first. */
  private static double[][] inverse(double[][] m) {
    double[] d = new double[3];
    double[][] c = new double[3][3];
    for (int i = 0; i < 3; i++) {
      d[i] = Math.sqrt(m[i][i]);
    }
    for (int i = 0; i < 3; i++) {
      for (int j = 0; j < 3; j++) {
        c[i][j] = m[i][j] / (d[i] * d[j]);
      }
    }
    double[][] cofactor = new double[3][3];
    for (int i = 0; i < 3; i++) {
      for (int j = 0; j < 3; j++) {
        int a = (i + 1) % 3;
        int b = (i + 2) % 3;
        int e = (j + 1) % 3;
        int f = (j + 2) % 3;
        cofactor[i][j] = c[a][e] * c[b][f] - c[a][f] * c[b][e];
      }
    }
    double determinant =
        c[0][0] * cofactor[0][0] + c[0][1] * cofactor[0][1] + c[0][2] * cofactor[0][2];
    double[][] out = new double[3][3];
    for (int i = 0; i < 3; i++) {
      for (int j = 0; j < 3; j++) {
        out[i][j] = cofactor[j][i] / determinant / (d[i] * d[j]);
      }
    }
    return out;
  }
}
