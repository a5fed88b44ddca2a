package org.slabnote.methods.signal;

/**
 * Model pulses.
 *
 * <p>Check: SignalReferenceTest (closed form in NumPy).
 *
 * @since 0.1
 */
public final class Wavelets {

  private Wavelets() {}

  /**
   * Ricker wavelet, zero phase: {@code (1 - 2 q) exp(-q)}, {@code q = (pi f t)^2}.
   *
   * <p>Largest value 1 at t = 0; its amplitude spectrum peaks at f. Source: Ricker 1953, Geophysics
   * 18(1), 10-40.
   *
   * @param time time from the centre, ns, any sign
   * @param peakFrequency peak of the amplitude spectrum, GHz
   * @return amplitude, dimensionless
   */
  public static double ricker(double time, double peakFrequency) {
    double root = Math.PI * peakFrequency * time;
    double q = root * root;
    return (1 - 2 * q) * StrictMath.exp(-q);
  }

  /**
   * Fourier transform of the Ricker wavelet: {@code 2 / sqrt(pi) f^2 / fp^3 exp(-(f / fp)^2)}.
   *
   * <p>Real and even, since the wavelet is symmetric about t = 0.
   *
   * @param frequency frequency, GHz
   * @param peakFrequency peak of the spectrum, GHz, above 0
   * @return spectral amplitude, ns
   */
  public static double rickerSpectrum(double frequency, double peakFrequency) {
    double ratio = frequency / peakFrequency;
    double square = ratio * ratio;
    return 2 / Math.sqrt(Math.PI) * square / peakFrequency * StrictMath.exp(-square);
  }

  /**
   * Ricker wavelet sampled symmetrically about its centre.
   *
   * @param peakFrequency peak of the amplitude spectrum, GHz, above 0
   * @param interval sample interval, ns, above 0
   * @param half samples on each side of the centre, 0 or more
   * @return {@code 2 half + 1} samples, the centre at index {@code half}
   * @throws IllegalArgumentException if an argument is outside its range
   */
  public static double[] ricker(double peakFrequency, double interval, int half) {
    if (!(peakFrequency > 0) || !(interval > 0) || half < 0) {
      throw new IllegalArgumentException(
          "Ricker wavelet: peak frequency = " + peakFrequency + " GHz, interval = " + interval
              + " ns, half = " + half + "; expected above 0, above 0, 0 or more");
    }
    double[] samples = new double[2 * half + 1];
    for (int i = 0; i < samples.length; i++) {
      samples[i] = ricker((i - half) * interval, peakFrequency);
    }
    return samples;
  }
}
