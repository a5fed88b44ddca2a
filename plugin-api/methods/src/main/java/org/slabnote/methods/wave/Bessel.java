package org.slabnote.methods.wave;

/**
 * Bessel functions J and Y of the integer orders 0 to N at one argument, with their derivatives.
 *
 * <p>J by Miller's backward recurrence from an order where it is below rounding, normalised by {@code
 * J_0 + 2 sum J_2k = 1}. Y_0 and Y_1 from the same values by Neumann's series ({@code Y_0 = 2/pi
 * (ln(x/2) + gamma) J_0 - 4/pi sum (-1)^k J_2k / k} and its like for Y_1), higher Y by forward
 * recurrence, which is stable. From x = 30, where all orders wanted are below x, Hankel's asymptotic
 * series give orders 0 and 1 and forward recurrence the rest. Derivatives: {@code f_n' = f_{n-1} - n / x
 * f_n}.
 *
 * <p>Error below 1e-12 of max(|value|, sqrt(2 / (pi x))). J underflows to 0 and Y overflows to negative
 * infinity where the true value does. StrictMath only.
 *
 * <p>Source: Abramowitz and Stegun 1964, 9.1.27, 9.1.46, 9.1.88, 9.1.89, 9.2.5, 9.12. Check:
 * BesselReferenceTest (mpmath).
 *
 * @since 0.1
 */
public final class Bessel {
  private static final double EULER = 0.57721566490153286061;
  private static final double ASYMPTOTIC_FROM = 30;
  private static final double HUGE = 1e200;

  private final double x;
  private final int highest;
  private final double[] j;
  private final double[] y;

  private Bessel(double x, int highest, double[] j, double[] y) {
    this.x = x;
    this.highest = highest;
    this.j = j;
    this.y = y;
  }

  /**
   * Computes J and Y at one argument.
   *
   * @param highest highest order, 0 to 10000
   * @param x argument, above 0, up to 1e5
   * @return the functions
   * @throws IllegalArgumentException if an argument is outside its range
   */
  public static Bessel of(int highest, double x) {
    if (highest < 0 || highest > 10_000) {
      throw new IllegalArgumentException(
          "Bessel functions: order " + highest + "; expected 0 to 10000");
    }
    if (!(x > 0 && x <= 1e5)) {
      throw new IllegalArgumentException(
          "Bessel functions: argument " + x + "; expected above 0, up to 1e5");
    }
    int top = Math.max(highest, 1);
    double[] j = new double[top + 1];
    double[] y = new double[top + 1];
    if (x >= ASYMPTOTIC_FROM && top <= x) {
      asymptotic(x, j, y);
      forward(x, j);
    } else {
      backward(x, j, y);
    }
    forward(x, y);
    return new Bessel(x, highest, j, y);
  }

  /**
   * J of an order.
   *
   * @param n order, 0 to the highest
   * @return J_n(x)
   */
  public double j(int n) {
    return j[n];
  }

  /**
   * Y of an order.
   *
   * @param n order, 0 to the highest
   * @return Y_n(x), negative infinity where it overflows
   */
  public double y(int n) {
    return y[n];
  }

  /**
   * Derivative of J.
   *
   * @param n order, 0 to the highest
   * @return dJ_n/dx
   */
  public double dj(int n) {
    return n == 0 ? -j[1] : j[n - 1] - n / x * j[n];
  }

  /**
   * Derivative of Y.
   *
   * @param n order, 0 to the highest
   * @return dY_n/dx, positive infinity where it overflows
   */
  public double dy(int n) {
    if (n == 0) {
      return -y[1];
    }
    return Double.isInfinite(y[n]) ? Double.POSITIVE_INFINITY : y[n - 1] - n / x * y[n];
  }

  /**
   * The argument.
   *
   * @return x
   */
  public double argument() {
    return x;
  }

  /**
   * Highest order computed.
   *
   * @return order, 0 or more
   */
  public int highest() {
    return highest;
  }

  private static void forward(double x, double[] f) {
    for (int n = 1; n + 1 < f.length; n++) {
      f[n + 1] = Double.isInfinite(f[n]) ? f[n] : 2 * n / x * f[n] - f[n - 1];
    }
  }

  /** Fills J entirely and Y of orders 0 and 1. */
  private static void backward(double x, double[] j, double[] y) {
    double reach = Math.max(j.length, x);
    int start = 2 * (((int) (reach + 30 + 4 * Math.sqrt(reach))) / 2); // even
    double above = 0;
    double here = 1e-300;
    double norm = 0;
    double evens = 0; // sum (-1)^k J_2k / k, k from 1
    double odds = 0; // sum (-1)^k (2 k + 1) / (k (k + 1)) J_{2k+1}, k from 1
    for (int n = start; n >= 0; n--) {
      if (Math.abs(here) > HUGE) {
        here /= HUGE;
        above /= HUGE;
        norm /= HUGE;
        evens /= HUGE;
        odds /= HUGE;
        for (int m = n + 1; m < j.length; m++) {
          j[m] /= HUGE;
        }
      }
      if (n < j.length) {
        j[n] = here;
      }
      int k = n / 2;
      double sign = k % 2 == 0 ? 1 : -1;
      if (n % 2 == 0) {
        norm += n == 0 ? here : 2 * here;
        evens += n == 0 ? 0 : sign * here / k;
      } else if (k > 0) {
        odds += sign * (2 * k + 1) / ((double) k * (k + 1)) * here;
      }
      double below = 2 * n / x * here - above;
      above = here;
      here = below;
    }
    for (int m = 0; m < j.length; m++) {
      j[m] /= norm;
    }
    double log = StrictMath.log(x / 2) + EULER;
    y[0] = 2 / Math.PI * (log * j[0] - 2 * evens / norm);
    y[1] = 2 / Math.PI * ((log - 1) * j[1] - j[0] / x - odds / norm);
  }

  /** Orders 0 and 1 from {@code sqrt(2 / (pi x)) (P cos chi - Q sin chi)} and its like. */
  private static void asymptotic(double x, double[] j, double[] y) {
    double sine = StrictMath.sin(x);
    double cosine = StrictMath.cos(x);
    double half = Math.sqrt(0.5);
    for (int n = 0; n <= 1; n++) {
      double p = 1;
      double q = 0;
      double term = 1;
      for (int k = 1; k <= 60; k++) {
        double next = term * (4.0 * n * n - (2.0 * k - 1) * (2.0 * k - 1)) / (8.0 * k * x);
        if (Math.abs(next) < 1e-18 || Math.abs(next) > Math.abs(term)) {
          break;
        }
        term = next;
        double sign = k / 2 % 2 == 0 ? 1 : -1;
        if (k % 2 == 0) {
          p += sign * term;
        } else {
          q += sign * term;
        }
      }
      // chi = x - pi/4 (order 0), x - 3 pi/4 (order 1)
      double cosChi = n == 0 ? half * (cosine + sine) : half * (sine - cosine);
      double sinChi = n == 0 ? half * (sine - cosine) : -half * (sine + cosine);
      double size = Math.sqrt(2 / (Math.PI * x));
      j[n] = size * (p * cosChi - q * sinChi);
      y[n] = size * (p * sinChi + q * cosChi);
    }
  }
}
