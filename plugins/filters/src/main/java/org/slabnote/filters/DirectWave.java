package org.slabnote.filters;

import java.util.Arrays;
import org.slabnote.api.Scan;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Units;
import org.slabnote.methods.fit.RobustFigures;
import org.slabnote.methods.signal.AnalyticSignal;
import org.slabnote.methods.signal.Fft;
import org.slabnote.methods.signal.HannBandPass;

/**
 * The direct wave of a pass: the first strong arrival on its median trace.
 *
 * @param index fractional sample index of the envelope's peak
 * @param time time of the peak on the scan's axis, ns
 * @param period period of the centre frequency, samples
 * @param rise from half the peak's height to the peak, in periods
 */
record DirectWave(double index, double time, double period, double rise) {

  /** Share of the greatest envelope that an arrival must reach to count as strong. */
  private static final double STRONG = 0.25;

  /** Share of what follows within {@link #GROUP_PERIODS} that the first peak must reach. */
  private static final double FIRST = 0.5;

  private static final double GROUP_PERIODS = 1.5;

  /** Greatest envelope over its median: 4 is passed by pure noise in about one pass of a hundred. */
  private static final double STANDS_OUT = 4;

  /** Corners in units of the centre frequency. */
  private static final HannBandPass QUIET = new HannBandPass(0, 0, 3, 5);

  /** Finds it. The text {@code where} begins each refusal. */
  static DirectWave of(Scan scan, String where, Work work) {
    return of(scan, medianTrace(scan, work), where);
  }

  /** Finds it on the median trace, where that is at hand. */
  static DirectWave of(Scan scan, float[] median, String where) {
    double period = scan.antenna().centre().period().over(scan.interval());
    int count = scan.axis().count();
    if (period < 2) {
      throw new IllegalArgumentException(where + "samples " + scan.interval()
          + " apart; expected two or more in a period of " + scan.antenna().centre()
          + ". Check sample_interval_ns and centre_frequency_mhz in survey.csv");
    }
    if (count < 2 * period) {
      throw new IllegalArgumentException(
          where + count + " samples per trace; expected two periods of "
              + scan.antenna().centre() + " or more (" + (int) Math.ceil(2 * period)
              + " samples) to hold the direct wave. State time_zero_ns in survey.csv");
    }
    double[] envelope = envelope(median, period);
    double index = firstStrong(envelope, period, where);
    double rise = (index - halfHeight(envelope, index)) / period;
    return new DirectWave(index, scan.axis().at(index).value(), period, rise);
  }

  /** Returns the median of all traces at each sample. */
  static float[] medianTrace(Scan scan, Work work) {
    int traces = scan.traces();
    float[] median = new float[scan.axis().count()];
    float[] column = new float[traces];
    for (int j = 0; j < median.length; j++) {
      work.checkCancelled();
      for (int i = 0; i < traces; i++) {
        column[i] = scan.sample(i, j);
      }
      Arrays.sort(column);
      median[j] = (float) (((double) column[(traces - 1) / 2] + column[traces / 2]) / 2);
    }
    return median;
  }

  /**
   * Envelope of a trace freed of drift, and of noise above five times the centre frequency (half a
   * cosine from three). Zeros after its end keep the end from reaching the start.
   */
  static double[] envelope(float[] trace, double period) {
    double[] padded = Arrays.copyOf(level(trace, period), Fft.fastLength(2 * trace.length));
    AnalyticSignal signal = AnalyticSignal.of(QUIET.apply(padded, 1 / period));
    return Arrays.copyOf(signal.envelope(), trace.length);
  }

  /**
   * A trace freed of drift: less its running mean over four periods; at the ends, where that window
   * does not fit, less the straight line fitted to the samples of the last window that does.
   */
  static double[] level(float[] trace, double period) {
    int n = trace.length;
    int half = Math.min((int) StrictMath.rint(2 * period), (n - 1) / 2);
    double[] before = RunningWindow.sums(trace);
    double[] out = new double[n];
    int width = 2 * half + 1;
    for (int i = half; i < n - half; i++) {
      out[i] = trace[i] - (before[i + half + 1] - before[i - half]) / width;
    }
    double[] slopes = {slope(trace, 0, width), slope(trace, n - width, width)};
    for (int i = 0; i < half; i++) {
      out[i] = trace[i] - before[width] / width - slopes[0] * (i - half);
      int j = n - 1 - i;
      out[j] = trace[j] - (before[n] - before[n - width]) / width + slopes[1] * (i - half);
    }
    return out;
  }

  /** Slope of the least-squares line through {@code width} samples, an odd number. */
  private static double slope(float[] trace, int from, int width) {
    double moment = 0;
    double spread = 0;
    for (int k = 0; k < width; k++) {
      double off = k - (width - 1) / 2.0;
      moment += off * trace[from + k];
      spread += off * off;
    }
    return spread == 0 ? 0 : moment / spread;
  }

  private static double firstStrong(double[] envelope, double period, String where) {
    double greatest = 0;
    for (double e : envelope) {
      greatest = Math.max(greatest, e);
    }
    double middle = RobustFigures.median(envelope);
    if (greatest == 0 || greatest < STANDS_OUT * middle) {
      throw new IllegalArgumentException(
          where + "no direct wave stands out: the greatest envelope is "
              + Units.plain(middle == 0 ? 0 : greatest / middle, 3)
              + " times its median; expected 4 or more. State time_zero_ns in survey.csv");
    }
    int onset = 0;
    while (envelope[onset] < STRONG * greatest) {
      onset++;
    }
    int end = Math.min(envelope.length, onset + 1 + (int) Math.ceil(GROUP_PERIODS * period));
    double group = 0;
    for (int i = onset; i < end; i++) {
      group = Math.max(group, envelope[i]);
    }
    if (envelope[0] > FIRST * group) {
      throw new IllegalArgumentException(
          where + "the file begins within its direct wave: the first sample has "
              + Units.plain(100 * envelope[0] / group, 3)
              + " % of its height. State time_zero_ns in survey.csv");
    }
    for (int i = Math.max(1, onset); i < Math.min(end, envelope.length - 1); i++) {
      if (envelope[i] >= FIRST * group && isGreatestNearby(envelope, i, period / 4)) {
        return refined(envelope, i);
      }
    }
    throw new IllegalArgumentException(
        where + "the file ends within its direct wave. State time_zero_ns in survey.csv");
  }

  /** A ripple on the flank is no peak. */
  private static boolean isGreatestNearby(double[] e, int i, double reach) {
    int from = Math.max(0, (int) Math.ceil(i - reach));
    int to = Math.min(e.length - 1, (int) Math.floor(i + reach));
    for (int k = from; k <= to; k++) {
      if (e[k] > e[i]) {
        return false;
      }
    }
    return isPeak(e, i);
  }

  private static boolean isPeak(double[] e, int i) {
    return e[i] > e[i - 1] && e[i] >= e[i + 1];
  }

  /** Returns the fractional index before the peak at which the envelope had half its height. */
  private static double halfHeight(double[] e, double peak) {
    int i = (int) StrictMath.rint(peak);
    double half = e[i] / 2;
    while (i > 0 && e[i] > half) {
      i--;
    }
    return e[i] > half ? i : i + (half - e[i]) / (e[i + 1] - e[i]);
  }

  /** Peak of the parabola through the logarithms of three samples: exact for a Gaussian envelope. */
  static double refined(double[] e, int i) {
    if (e[i - 1] <= 0 || e[i + 1] <= 0) {
      return i;
    }
    double before = StrictMath.log(e[i - 1]);
    double at = StrictMath.log(e[i]);
    double after = StrictMath.log(e[i + 1]);
    double curvature = before - 2 * at + after;
    return curvature < 0 ? i + (before - after) / (2 * curvature) : i;
  }

  /**
   * Returns the time of the direct wave on each trace that has it, ns: the strong peak of its envelope
   * nearest to that of the pass, within a period. Traces without one, dead ones say, are left out; if none
   * is left, the pass's own.
   */
  double[] picks(Scan scan, Work work) {
    double[] found = new double[scan.traces()];
    int needed = Math.min(scan.axis().count(), (int) Math.ceil(index + 3 * period));
    work.forEach(
        found.length,
        i -> found[i] = peakNear(envelope(Arrays.copyOf(scan.trace(i), needed), period)));
    double[] times = Arrays.stream(found)
        .filter(at -> !Double.isNaN(at))
        .map(at -> scan.axis().at(at).value())
        .toArray();
    return times.length == 0 ? new double[] {time} : times;
  }

  private double peakNear(double[] e) {
    int from = Math.max(1, (int) Math.ceil(index - period));
    int to = Math.min(e.length - 2, (int) Math.floor(index + period));
    double greatest = 0;
    for (int i = from; i <= to; i++) {
      greatest = Math.max(greatest, e[i]);
    }
    double best = Double.NaN;
    for (int i = from; i <= to; i++) {
      if (isPeak(e, i) && e[i] >= FIRST * greatest) {
        double at = refined(e, i);
        if (Double.isNaN(best) || Math.abs(at - index) < Math.abs(best - index)) {
          best = at;
        }
      }
    }
    return best;
  }
}
