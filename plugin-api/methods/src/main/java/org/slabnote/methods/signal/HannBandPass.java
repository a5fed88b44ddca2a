package org.slabnote.methods.signal;

/**
 * Zero-phase band-pass in the frequency domain with half-cosine flanks.
 *
 * <p>Factor 0 up to the first corner, {@code 0.5 - 0.5 cos} up to 1 at the second, 1 to the third,
 * back to 0 at the fourth. One transform of the N samples, no padding: the trace is taken as periodic,
 * so what leaves at one end enters at the other. Taper the trace or extend it first where that matters.
 *
 * <p>Linear; equal for every trace. Check: SignalReferenceTest (NumPy).
 *
 * @param stopBelow full rejection below this frequency, GHz, 0 or more
 * @param passFrom full transmission from here, GHz, at least stopBelow
 * @param passTo full transmission up to here, GHz, at least passFrom
 * @param stopAbove full rejection above, GHz, at least passTo
 * @since 0.1
 */
public record HannBandPass(double stopBelow, double passFrom, double passTo, double stopAbove) {

  /** Checks the order of the corners. */
  public HannBandPass {
    boolean ordered =
        stopBelow >= 0 && passFrom >= stopBelow && passTo >= passFrom && stopAbove >= passTo;
    if (!ordered || Double.isInfinite(stopAbove)) {
      throw new IllegalArgumentException(
          "band-pass: corners " + stopBelow + ", " + passFrom + ", " + passTo + ", " + stopAbove
              + " GHz; expected four finite frequencies in rising order, 0 or more");
    }
  }

  /**
   * Factor at a frequency.
   *
   * @param frequency frequency, GHz, 0 or more
   * @return 0 to 1
   */
  public double factor(double frequency) {
    if (frequency >= passFrom && frequency <= passTo) {
      return 1;
    }
    if (frequency <= stopBelow || frequency >= stopAbove) {
      return 0;
    }
    double share = frequency < passFrom
        ? (frequency - stopBelow) / (passFrom - stopBelow)
        : (stopAbove - frequency) / (stopAbove - passTo);
    return 0.5 - 0.5 * StrictMath.cos(Math.PI * share);
  }

  /**
   * Filters a trace.
   *
   * @param trace samples, at least 1
   * @param interval sample interval, ns, above 0
   * @return new array of as many samples
   * @throws IllegalArgumentException if the trace is empty
   */
  public double[] apply(double[] trace, double interval) {
    Fft fft = Fft.of(trace.length);
    double[] spectrum = fft.forwardReal(trace);
    for (int k = 0; k < fft.bins(); k++) {
      double factor = factor(fft.frequency(k, interval));
      spectrum[2 * k] *= factor;
      spectrum[2 * k + 1] *= factor;
    }
    return fft.inverseReal(spectrum);
  }
}
