package org.slabnote.methods.signal;

/**
 * Tapers: Hann, Hamming, Blackman, Tukey.
 *
 * <p>Symmetric windows (denominator N - 1) taper a trace; periodic ones (denominator N) serve spectral
 * estimates. A window of one sample is 1.
 *
 * <p>Source: Harris 1978, Proc. IEEE 66(1), 51-83. Check: SignalReferenceTest (SciPy).
 *
 * @since 0.1
 */
public final class Windows {

  private Windows() {}

  /**
   * Hann window, ends at 0: {@code 0.5 - 0.5 cos(2 pi i / (n - 1))}.
   *
   * @param length samples, 1 or more
   * @return new array of weights, 0 to 1
   */
  public static double[] hann(int length) {
    return cosines(length, length - 1, 0.5, 0.5, 0);
  }

  /**
   * Hann window of period {@code length}: {@code 0.5 - 0.5 cos(2 pi i / n)}.
   *
   * @param length samples, 1 or more
   * @return new array of weights, 0 to 1
   */
  public static double[] hannPeriodic(int length) {
    return cosines(length, length, 0.5, 0.5, 0);
  }

  /**
   * Hamming window: {@code 0.54 - 0.46 cos(2 pi i / (n - 1))}.
   *
   * @param length samples, 1 or more
   * @return new array of weights, 0.08 to 1
   */
  public static double[] hamming(int length) {
    return cosines(length, length - 1, 0.54, 0.46, 0);
  }

  /**
   * Blackman window: {@code 0.42 - 0.5 cos(q) + 0.08 cos(2 q)}, {@code q = 2 pi i / (n - 1)}.
   *
   * @param length samples, 1 or more
   * @return new array of weights, 0 to 1
   */
  public static double[] blackman(int length) {
    return cosines(length, length - 1, 0.42, 0.5, 0.08);
  }

  /**
   * Tukey window: half-cosine at both ends, 1 between.
   *
   * @param length samples, 1 or more
   * @param taper share of the window inside both tapers together, 0 (all 1) to 1 (Hann)
   * @return new array of weights, 0 to 1
   * @throws IllegalArgumentException if an argument is outside its range
   */
  public static double[] tukey(int length, double taper) {
    check(length);
    if (!(taper >= 0 && taper <= 1)) {
      throw new IllegalArgumentException("Tukey window: taper = " + taper + "; expected 0 to 1");
    }
    double[] window = new double[length];
    double edge = taper * (length - 1) / 2.0;
    for (int i = 0; i < length; i++) {
      double fromEnd = Math.min(i, length - 1 - i);
      window[i] =
          length == 1 || fromEnd >= edge ? 1 : 0.5 * (1 - StrictMath.cos(Math.PI * fromEnd / edge));
    }
    return window;
  }

  private static double[] cosines(int length, int denominator, double a, double b, double c) {
    check(length);
    double[] window = new double[length];
    if (length == 1) {
      window[0] = 1;
      return window;
    }
    for (int i = 0; i < length; i++) {
      double q = 2 * Math.PI * i / denominator;
      window[i] = a - b * StrictMath.cos(q) + c * StrictMath.cos(2 * q);
    }
    return window;
  }

  private static void check(int length) {
    if (length < 1) {
      throw new IllegalArgumentException("window: length = " + length + "; expected 1 or more");
    }
  }
}
