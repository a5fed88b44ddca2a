package org.slabnote.filters;

import java.util.EnumSet;
import java.util.Set;
import org.slabnote.api.Amplitudes;
import org.slabnote.api.Filter;
import org.slabnote.api.Op;
import org.slabnote.api.Param;
import org.slabnote.api.Purpose;
import org.slabnote.api.Scan;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Frequency;
import org.slabnote.api.quantity.Units;
import org.slabnote.methods.signal.Butterworth;

/**
 * Keeps the frequencies between two corners, without delay: a Butterworth band-pass of order 4, run
 * forward and backward.
 *
 * <p>The amplitude at a corner is one half (a single pass has 0.707). Both ends of a trace are
 * extended oddly, {@code 2 x_end - x}, by 27 samples, and each run starts from the steady state of
 * its first value, so that a constant passes without a transient (and is then removed).
 *
 * <p>Refused: a low corner at or above the high one; a high corner at or above the Nyquist frequency
 * {@code 1 / (2 dt)}; traces of 27 samples or fewer. A band that touches the pulse's own band
 * lengthens the pulse: keep about 0.25 to 2.5 times the centre frequency.
 *
 * <p>Amplitudes stay comparable: linear, and the same for every trace. Source: Oppenheim and Schafer,
 * Discrete-Time Signal Processing, ch. 7; conventions as scipy.signal.butter and sosfiltfilt. Check:
 * FilterReferenceTest (SciPy).
 *
 * @param low lower corner
 * @param high upper corner, above the lower and below the Nyquist frequency of the scan
 * @since 0.1
 */
@Op(id = "filters.band-pass", revision = 1, purpose = Purpose.FILTER)
public record BandPass(
    @Param(
        meaning = "lower corner, about a quarter of the centre frequency",
        from = "1 MHz",
        to = "10000 MHz",
        doubt = "25 %")
    Frequency low,

    @Param(
        meaning = "upper corner, about two and a half times the centre frequency",
        from = "10 MHz",
        to = "20000 MHz",
        doubt = "25 %")
    Frequency high)
    implements Filter<Scan> {

  private static final int ORDER = 4;

  @Override
  public Amplitudes amplitudes() {
    return Amplitudes.SAME_LINEAR;
  }

  @Override
  public Set<Claim> claims() {
    return EnumSet.of(
        Claim.ZERO_DELAY,
        Claim.LINEAR,
        Claim.SCALE_FREE,
        Claim.KEEPS_POLARITY,
        Claim.TRACE_BY_TRACE);
  }

  @Override
  public Scan apply(Scan input, Work work) {
    double nyquist = 500 / input.interval().value();
    String where =
        "filters.band-pass: scan " + input.pass() + ", channel " + input.channel() + ": ";
    if (low.value() >= high.value()) {
      throw new IllegalArgumentException(
          where + "low = " + low + " and high = " + high + "; expected low below high");
    }
    if (high.value() >= nyquist) {
      throw new IllegalArgumentException(
          where + "high = " + high + " is not below the Nyquist frequency "
              + Units.plain(nyquist, 6) + " MHz of samples " + input.interval()
              + " apart. Choose a lower corner; check the sample interval in survey.csv");
    }
    Butterworth filter = Butterworth.bandPass(
        ORDER, low.inGigahertz(), high.inGigahertz(), input.interval().value());
    if (input.axis().count() <= filter.extension()) {
      throw new IllegalArgumentException(
          where + input.axis().count() + " samples per trace; expected more than "
              + filter.extension() + ", by which both ends are extended. Leave this filter out");
    }
    return input.eachTrace(work, trace -> filtered(trace, filter));
  }

  private static float[] filtered(float[] trace, Butterworth filter) {
    double[] wide = new double[trace.length];
    for (int i = 0; i < wide.length; i++) {
      wide[i] = trace[i];
    }
    double[] narrow = filter.zeroPhase(wide);
    float[] out = new float[trace.length];
    for (int i = 0; i < out.length; i++) {
      out[i] = (float) narrow[i];
    }
    return out;
  }
}
