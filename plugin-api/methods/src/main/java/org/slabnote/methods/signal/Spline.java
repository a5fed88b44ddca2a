package org.slabnote.methods.signal;

/**
 * Cubic spline through evenly spaced samples.
 *
 * <p>Continuous up to the second derivative. Natural: no bend at the ends. Not-a-knot: the first two and
 * the last two pieces are one cubic each. The not-a-knot spline is the better for a trace that is not
 * at rest at its ends.
 *
 * <p>Source: de Boor, A Practical Guide to Splines, ch. 4. Check: InterpolationTest (SciPy).
 *
 * @since 0.1
 */
public final class Spline {
  private final double[] values;
  private final double[] bends; // second derivatives per sample number squared

  private Spline(double[] values, double[] bends) {
    this.values = values;
    this.bends = bends;
  }

  /**
   * Natural spline.
   *
   * @param values samples, at least 2
   * @return spline
   * @throws IllegalArgumentException if there are fewer than 2
   */
  public static Spline natural(double[] values) {
    check(values, 2);
    return new Spline(values.clone(), solve(values, false));
  }

  /**
   * Spline with not-a-knot ends.
   *
   * @param values samples, at least 4
   * @return spline
   * @throws IllegalArgumentException if there are fewer than 4
   */
  public static Spline notAKnot(double[] values) {
    check(values, 4);
    return new Spline(values.clone(), solve(values, true));
  }

  /**
   * Value at a place.
   *
   * @param place sample number with fraction, 0 to n - 1
   * @return value
   * @throws IllegalArgumentException if the place is outside the samples
   */
  public double at(double place) {
    int last = values.length - 1;
    if (!(place >= 0 && place <= last)) {
      throw new IllegalArgumentException("spline: place = " + place + "; expected 0 to " + last);
    }
    int i = Math.min((int) place, last - 1);
    double b = place - i;
    double a = 1 - b;
    return a * values[i]
        + b * values[i + 1]
        + ((a * a * a - a) * bends[i] + (b * b * b - b) * bends[i + 1]) / 6;
  }

  /** Tridiagonal system m[i-1] + 4 m[i] + m[i+1] = 6 (second difference), by elimination. */
  private static double[] solve(double[] y, boolean notAKnot) {
    int n = y.length;
    double[] m = new double[n];
    int inner = n - 2;
    if (inner < 1) {
      return m;
    }
    double[] diagonal = new double[inner];
    double[] upper = new double[inner];
    double[] right = new double[inner];
    for (int i = 0; i < inner; i++) {
      diagonal[i] = 4;
      upper[i] = 1;
      right[i] = 6 * (y[i] - 2 * y[i + 1] + y[i + 2]);
    }
    double lowerLast = 1;
    if (notAKnot) {
      // m0 = 2 m1 - m2 makes the first row 6 m1 = ..., and likewise at the other end
      diagonal[0] = 6;
      upper[0] = 0;
      diagonal[inner - 1] = 6;
      lowerLast = 0;
    }
    for (int i = 1; i < inner; i++) {
      double factor = (i == inner - 1 ? lowerLast : 1) / diagonal[i - 1];
      diagonal[i] -= factor * upper[i - 1];
      right[i] -= factor * right[i - 1];
    }
    for (int i = inner - 1; i >= 0; i--) {
      double next = i == inner - 1 ? 0 : upper[i] * m[i + 2];
      m[i + 1] = (right[i] - next) / diagonal[i];
    }
    if (notAKnot) {
      m[0] = 2 * m[1] - m[2];
      m[n - 1] = 2 * m[n - 2] - m[n - 3];
    }
    return m;
  }

  private static void check(double[] values, int least) {
    if (values.length < least) {
      throw new IllegalArgumentException(
          "spline: " + values.length + " samples; expected at least " + least);
    }
  }
}
