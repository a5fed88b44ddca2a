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
import org.slabnote.api.quantity.TimeSpan;

/**
 * Takes the slow drift out of each trace by subtracting a running mean.
 *
 * <p>{@code y[i] = x[i] - mean(x[i-h] .. x[i+h])}, {@code h = round(window / (2 dt))}, dt the sample
 * interval, sums in double. At both ends the mean is over the samples that exist: nothing is
 * invented. A constant trace becomes zero; a trace of one sample becomes zero. A window under one
 * period eats the wavelet.
 *
 * <p>Amplitudes stay comparable: linear, and the same for every trace. Source: running-mean
 * detrending, common practice, no source. Check: FilterReferenceTest (SciPy).
 *
 * @param window length of the running mean
 * @since 0.1
 */
@Op(id = "filters.dewow", revision = 1, purpose = Purpose.FILTER)
public record Dewow(
    @Param(
        meaning = "length of the running mean, one to two periods of the centre frequency",
        from = "0.1 ns",
        to = "50 ns",
        doubt = "25 %")
    TimeSpan window)
    implements Filter<Scan> {

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
    int half = RunningWindow.half(window, input.axis());
    return input.eachTrace(work, trace -> minusRunningMean(trace, half));
  }

  static float[] minusRunningMean(float[] trace, int half) {
    double[] before = RunningWindow.sums(trace);
    float[] out = new float[trace.length];
    for (int i = 0; i < trace.length; i++) {
      int from = Math.max(0, i - half);
      int to = Math.min(trace.length, i + half + 1);
      out[i] = (float) (trace[i] - (before[to] - before[from]) / (to - from));
    }
    return out;
  }
}
