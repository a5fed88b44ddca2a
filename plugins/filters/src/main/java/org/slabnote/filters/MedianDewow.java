package org.slabnote.filters;

import java.util.Arrays;
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
 * Takes the slow drift out of each trace by subtracting a running median.
 *
 * <p>{@code y[i] = x[i] - median(x[i-h] .. x[i+h])}, {@code h = round(window / (2 dt))}. At both ends
 * the median is of the samples that exist; of an even count it is the mean of the two middle ones. A
 * single strong echo does not pull its surroundings down, as it does with a running mean.
 *
 * <p>Not linear: amplitudes are altered, and pair ratios cannot be taken afterwards. Source: running
 * median, common practice, no source. Check: FilterReferenceTest (SciPy).
 *
 * @param window length of the running median
 * @since 0.1
 */
@Op(id = "filters.median-dewow", revision = 1, purpose = Purpose.FILTER)
public record MedianDewow(
    @Param(
        meaning = "length of the running median, two periods of the centre frequency or more",
        from = "0.1 ns",
        to = "50 ns",
        doubt = "25 %")
    TimeSpan window)
    implements Filter<Scan> {

  @Override
  public Amplitudes amplitudes() {
    return Amplitudes.ALTERED;
  }

  @Override
  public Set<Claim> claims() {
    return EnumSet.of(
        Claim.ZERO_DELAY, Claim.SCALE_FREE, Claim.KEEPS_POLARITY, Claim.TRACE_BY_TRACE);
  }

  @Override
  public Scan apply(Scan input, Work work) {
    int half = RunningWindow.half(window, input.axis());
    return input.eachTrace(work, trace -> minusRunningMedian(trace, half));
  }

  /** Keeps the window sorted: each step removes one sample and inserts one. */
  static float[] minusRunningMedian(float[] trace, int half) {
    int n = trace.length;
    float[] sorted = new float[Math.min(n, 2 * half + 1) + 1];
    int size = 0;
    for (int i = 0; i < Math.min(n, half); i++) {
      insert(sorted, size++, trace[i]);
    }
    float[] out = new float[n];
    for (int i = 0; i < n; i++) {
      if (i + half < n) {
        insert(sorted, size++, trace[i + half]);
      }
      if (i - half > 0) {
        remove(sorted, size--, trace[i - half - 1]);
      }
      double median =
          size % 2 == 1 ? sorted[size / 2] : ((double) sorted[size / 2 - 1] + sorted[size / 2]) / 2;
      out[i] = (float) (trace[i] - median);
    }
    return out;
  }

  private static void insert(float[] sorted, int size, float value) {
    int at = Arrays.binarySearch(sorted, 0, size, value);
    at = at < 0 ? -at - 1 : at;
    System.arraycopy(sorted, at, sorted, at + 1, size - at);
    sorted[at] = value;
  }

  private static void remove(float[] sorted, int size, float value) {
    int at = Arrays.binarySearch(sorted, 0, size, value);
    System.arraycopy(sorted, at + 1, sorted, at, size - at - 1);
  }
}
