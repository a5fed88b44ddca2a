package org.slabnote.methods.signal;

/**
 * Analytic signal of a real trace: envelope, phase and instantaneous frequency.
 *
 * <p>One Fourier transform of all N samples, no padding: weight 1 at frequency 0 (and at Nyquist if N
 * is even), 2 above, 0 below. The envelope is its modulus, the phase its argument. The trace is taken
 * as periodic, so an offset or a step between its ends leaks into both: filter first.
 *
 * <p>Source: Gabor 1946; definition as scipy.signal.hilbert. Check: SignalReferenceTest (SciPy).
 *
 * @since 0.1
 */
public final class AnalyticSignal {
  private final double[] interleaved;

  private AnalyticSignal(double[] interleaved) {
    this.interleaved = interleaved;
  }

  /**
   * Analytic signal of a trace.
   *
   * @param trace samples, at least 1
   * @return its analytic signal
   * @throws IllegalArgumentException if the trace is empty
   */
  public static AnalyticSignal of(double[] trace) {
    int n = trace.length;
    Fft fft = Fft.of(n);
    double[] half = fft.forwardReal(trace);
    double[] full = new double[2 * n];
    int last = (n + 1) / 2; // bins 1 to last - 1 are strictly between 0 and Nyquist
    full[0] = half[0];
    for (int k = 1; k < last; k++) {
      full[2 * k] = 2 * half[2 * k];
      full[2 * k + 1] = 2 * half[2 * k + 1];
    }
    if (n % 2 == 0) {
      full[n] = half[n];
      full[n + 1] = half[n + 1];
    }
    fft.inverse(full);
    return new AnalyticSignal(full);
  }

  /**
   * Analytic signal of a trace of floats.
   *
   * @param trace samples, at least 1
   * @return its analytic signal
   * @throws IllegalArgumentException if the trace is empty
   */
  public static AnalyticSignal of(float[] trace) {
    double[] wide = new double[trace.length];
    for (int i = 0; i < wide.length; i++) {
      wide[i] = trace[i];
    }
    return of(wide);
  }

  /**
   * Number of samples.
   *
   * @return samples
   */
  public int length() {
    return interleaved.length / 2;
  }

  /**
   * Real part of a sample: the trace itself, to rounding.
   *
   * @param sample sample number from 0
   * @return real part
   */
  public double real(int sample) {
    return interleaved[2 * sample];
  }

  /**
   * Imaginary part of a sample: the trace turned by -90 degrees.
   *
   * @param sample sample number from 0
   * @return imaginary part
   */
  public double imaginary(int sample) {
    return interleaved[2 * sample + 1];
  }

  /**
   * Envelope at a sample.
   *
   * @param sample sample number from 0
   * @return modulus, 0 or more
   */
  public double envelope(int sample) {
    double re = interleaved[2 * sample];
    double im = interleaved[2 * sample + 1];
    return Math.sqrt(re * re + im * im);
  }

  /**
   * Phase at a sample.
   *
   * @param sample sample number from 0
   * @return argument in radians, above -pi to pi
   */
  public double phase(int sample) {
    return StrictMath.atan2(interleaved[2 * sample + 1], interleaved[2 * sample]);
  }

  /**
   * Envelope of every sample.
   *
   * @return new array of moduli
   */
  public double[] envelope() {
    double[] values = new double[length()];
    for (int i = 0; i < values.length; i++) {
      values[i] = envelope(i);
    }
    return values;
  }

  /**
   * Phase of every sample, wrapped.
   *
   * @return new array of arguments in radians, above -pi to pi
   */
  public double[] phase() {
    double[] values = new double[length()];
    for (int i = 0; i < values.length; i++) {
      values[i] = phase(i);
    }
    return values;
  }

  /**
   * Instantaneous frequency between neighbouring samples.
   *
   * <p>{@code f[i] = wrapped(phase[i + 1] - phase[i]) / (2 pi dt)}, at the midpoint. Means nothing
   * where the envelope is small.
   *
   * @param interval sample interval, ns
   * @return one value fewer than samples, GHz, between -1 / (2 dt) and 1 / (2 dt)
   */
  public double[] instantaneousFrequency(double interval) {
    double[] values = new double[Math.max(0, length() - 1)];
    for (int i = 0; i < values.length; i++) {
      double re = real(i) * real(i + 1) + imaginary(i) * imaginary(i + 1);
      double im = real(i) * imaginary(i + 1) - imaginary(i) * real(i + 1);
      values[i] = StrictMath.atan2(im, re) / (2 * Math.PI * interval);
    }
    return values;
  }
}
