package org.slabnote.methods.signal;

import java.util.LinkedHashMap;
import java.util.Map;
import org.jtransforms.fft.DoubleFFT_1D;
import org.visnow.jlargearrays.ConcurrencyUtils;

/**
 * Discrete Fourier transform of any length.
 *
 * <p>Forward: {@code X[k] = sum over i of x[i] exp(-2 pi j i k / n)}; inverse with {@code +j} and the
 * factor {@code 1 / n}, so that inverse after forward returns the input. Complex numbers lie
 * interleaved: real part at 2 k, imaginary part at 2 k + 1. Lengths without a prime factor above 5
 * are fast; others cost about twenty times as much.
 *
 * <p>One thread, no state between calls; an object may be shared among threads. The library inside
 * fills its tables with {@code Math.sin} and {@code Math.cos}; a test holds its output to committed
 * bits, so that a Java version with other bits does not pass unseen.
 *
 * <p>Source: JTransforms 3.2. Check: FftTest against the defining sum.
 *
 * @since 0.1
 */
public final class Fft {

  private static final int MOST_PLANS = 64;

  private static final Map<Integer, Fft> PLANS = new LinkedHashMap<>(16, 0.75f, true) {
    private static final long serialVersionUID = 1L;

    @Override
    protected boolean removeEldestEntry(Map.Entry<Integer, Fft> eldest) {
      return size() > MOST_PLANS;
    }
  };

  static {
    ConcurrencyUtils.setNumberOfThreads(1);
  }

  private final int length;
  private final DoubleFFT_1D plan;

  private Fft(int length) {
    this.length = length;
    this.plan = new DoubleFFT_1D(length);
  }

  /**
   * The transform of one length, from a small cache.
   *
   * @param length number of samples, 1 or more
   * @return the transform
   * @throws IllegalArgumentException if the length is below 1
   */
  public static Fft of(int length) {
    if (length < 1) {
      throw new IllegalArgumentException(
          "Fourier transform: length = " + length + "; expected 1 or more");
    }
    synchronized (PLANS) {
      return PLANS.computeIfAbsent(length, Fft::new);
    }
  }

  /**
   * The smallest length of the form 2^a 3^b 5^c that is at least the given one.
   *
   * @param atLeast wanted length, 1 to 2^30
   * @return fast length
   * @throws IllegalArgumentException if the length is outside its range
   */
  public static int fastLength(int atLeast) {
    if (atLeast < 1 || atLeast > 1 << 30) {
      throw new IllegalArgumentException(
          "Fourier transform: length = " + atLeast + "; expected 1 to " + (1 << 30));
    }
    long best = Long.MAX_VALUE;
    for (long five = 1; five < 2L * atLeast; five *= 5) {
      for (long three = five; three < 2L * atLeast; three *= 3) {
        long candidate = three;
        while (candidate < atLeast) {
          candidate *= 2;
        }
        best = Math.min(best, candidate);
      }
    }
    return (int) best;
  }

  /**
   * Number of samples of this transform.
   *
   * @return samples, 1 or more
   */
  public int length() {
    return length;
  }

  /**
   * Number of bins of a real signal's spectrum: 0 to the Nyquist frequency.
   *
   * @return {@code length / 2 + 1}
   */
  public int bins() {
    return length / 2 + 1;
  }

  /**
   * Transforms interleaved complex samples in place.
   *
   * @param samples 2 x length values, overwritten by the spectrum
   * @throws IllegalArgumentException if the array has another length
   */
  public void forward(double[] samples) {
    expect(samples, 2 * length);
    plan.complexForward(samples);
  }

  /**
   * Transforms an interleaved complex spectrum back, in place, with the factor 1 / length.
   *
   * @param spectrum 2 x length values, overwritten by the samples
   * @throws IllegalArgumentException if the array has another length
   */
  public void inverse(double[] spectrum) {
    expect(spectrum, 2 * length);
    plan.complexInverse(spectrum, true);
  }

  /**
   * Spectrum of a real signal, frequencies 0 to Nyquist.
   *
   * @param samples as many values as the length
   * @return 2 x {@link #bins()} values, interleaved
   * @throws IllegalArgumentException if the array has another length
   */
  public double[] forwardReal(double[] samples) {
    expect(samples, length);
    double[] packed = samples.clone();
    plan.realForward(packed);
    double[] spectrum = new double[2 * bins()];
    System.arraycopy(packed, 0, spectrum, 0, length);
    // the library keeps one lone real (even) or imaginary (odd) part in place 1
    spectrum[1] = 0;
    if (length > 1) {
      if (length % 2 == 0) {
        spectrum[length] = packed[1];
        spectrum[length + 1] = 0;
      } else {
        spectrum[length] = packed[1];
      }
    }
    return spectrum;
  }

  /**
   * Real signal of a spectrum from 0 to Nyquist, with the factor 1 / length.
   *
   * <p>The imaginary parts at 0 and, for an even length, at Nyquist are ignored: a real signal has
   * none.
   *
   * @param spectrum 2 x {@link #bins()} values, interleaved
   * @return as many samples as the length
   * @throws IllegalArgumentException if the array has another length
   */
  public double[] inverseReal(double[] spectrum) {
    expect(spectrum, 2 * bins());
    double[] packed = new double[length];
    System.arraycopy(spectrum, 0, packed, 0, length);
    if (length > 1) {
      packed[1] = spectrum[length];
    }
    plan.realInverse(packed, true);
    return packed;
  }

  /**
   * Frequency of a bin.
   *
   * @param bin number of the bin, 0 to bins() - 1
   * @param interval sample interval, ns
   * @return frequency, GHz
   */
  public double frequency(int bin, double interval) {
    return bin / (length * interval);
  }

  private void expect(double[] array, int wanted) {
    if (array.length != wanted) {
      throw new IllegalArgumentException("Fourier transform of length " + length + ": array of "
          + array.length + " values; expected " + wanted);
    }
  }
}
