package org.slabnote.filters;

import java.util.Arrays;
import java.util.Optional;
import org.slabnote.api.Scan;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Units;
import org.slabnote.api.quantity.Velocity;
import org.slabnote.methods.fit.RobustFigures;
import org.slabnote.methods.signal.Fft;

/**
 * How one scan was taken, in figures.
 *
 * @param direct the direct wave, where it was found
 * @param why why it was not found; empty where it was
 * @param spread 5 % to 95 % span of the direct wave's time over the traces, ns
 * @param dead traces without life: constant, or under a tenth of the energy around them
 * @param copied traces equal to the one before, sample by sample
 * @param clipped share of samples on flat tops outside the direct wave
 * @param clippedDirect share of traces whose direct wave has a flat top
 * @param signal direct wave over noise, dB, 200 at most
 * @param centroid centre of the direct wave's spectrum, GHz
 */
record ScanHealth(
    Optional<DirectWave> direct,
    String why,
    double spread,
    boolean[] dead,
    boolean[] copied,
    double clipped,
    double clippedDirect,
    double signal,
    double centroid) {

  /** Traces to each side whose median energy a trace is held against. */
  private static final int AROUND = 10;

  private static final double DEAD_SHARE = 0.1;
  private static final int FLAT_RUN = 3;

  /** A flat run counts as clipped only this near to the greatest sample of the scan. */
  private static final double FULL_SCALE = 0.9;

  static ScanHealth of(Scan scan, Work work) {
    float[] median = DirectWave.medianTrace(scan, work);
    Optional<DirectWave> direct = Optional.empty();
    String why = "";
    try {
      direct = Optional.of(DirectWave.of(scan, median, ""));
    } catch (IllegalArgumentException e) {
      why = String.valueOf(e.getMessage());
    }
    boolean[] dead = dead(scan, work);
    double spread = Double.NaN;
    double signal = Double.NaN;
    double centroid = Double.NaN;
    if (direct.isPresent()) {
      double[] picks = direct.get().picks(scan, work);
      spread = RobustFigures.quantile(picks, 0.95) - RobustFigures.quantile(picks, 0.05);
      work.checkCancelled();
      signal = signal(scan, median, direct.get(), dead);
      work.checkCancelled();
      centroid = centroid(scan, median, direct.get());
    }
    double[] clipped = clipped(scan, direct, work);
    return new ScanHealth(
        direct, why, spread, dead, copied(scan, work), clipped[0], clipped[1], signal, centroid);
  }

  private static boolean[] dead(Scan scan, Work work) {
    double[] energy = new double[scan.traces()];
    boolean[] constant = new boolean[energy.length];
    for (int i = 0; i < energy.length; i++) {
      work.checkCancelled();
      float[] trace = scan.trace(i);
      double mean = RunningWindow.sums(trace)[trace.length] / trace.length;
      constant[i] = true;
      for (float x : trace) {
        energy[i] += (x - mean) * (x - mean);
        constant[i] &= x == trace[0];
      }
    }
    boolean[] dead = new boolean[energy.length];
    for (int i = 0; i < energy.length; i++) {
      work.checkCancelled();
      double[] near = Arrays.copyOfRange(
          energy, Math.max(0, i - AROUND), Math.min(energy.length, i + AROUND + 1));
      dead[i] = constant[i] && scan.axis().count() > 1
          || energy[i] < DEAD_SHARE * RobustFigures.median(near);
    }
    return dead;
  }

  private static boolean[] copied(Scan scan, Work work) {
    boolean[] copied = new boolean[scan.traces()];
    for (int i = 1; i < copied.length; i++) {
      work.checkCancelled();
      copied[i] = Arrays.equals(scan.trace(i), scan.trace(i - 1));
    }
    return copied;
  }

  /** Share of samples on flat tops outside the direct wave, and of traces with one inside it. */
  private static double[] clipped(Scan scan, Optional<DirectWave> direct, Work work) {
    double most = 0;
    for (int i = 0; i < scan.samples().size(); i++) {
      most = Math.max(most, Math.abs(scan.samples().get(i)));
    }
    double from = direct.map(d -> d.index() - 1.5 * d.period()).orElse(0.0);
    double to = direct.map(d -> d.index() + 1.5 * d.period()).orElse(-1.0);
    long outside = 0;
    int traces = 0;
    for (int i = 0; i < scan.traces(); i++) {
      work.checkCancelled();
      float[] trace = scan.trace(i);
      boolean inDirect = false;
      int run = 1;
      for (int j = 1; j <= trace.length; j++) {
        if (j < trace.length && trace[j] == trace[j - 1]) {
          run++;
          continue;
        }
        if (run >= FLAT_RUN && most > 0 && Math.abs(trace[j - 1]) >= FULL_SCALE * most) {
          boolean within = j - 1 >= from && j - run <= to;
          inDirect |= within;
          outside += within ? 0 : run;
        }
        run = 1;
      }
      traces += inDirect ? 1 : 0;
    }
    return new double[] {outside / (double) scan.samples().size(), traces / (double) scan.traces()};
  }

  /**
   * Direct wave over noise, dB: envelope's peak of the median trace over the robust deviation of what
   * comes before it, or of the last tenth of the time where nothing does. Dead traces do not count.
   * What all traces share is taken out first.
   */
  private static double signal(Scan scan, float[] median, DirectWave direct, boolean[] dead) {
    int before = (int) Math.floor(direct.index() - 2 * direct.period());
    int count = scan.axis().count();
    int from = before >= 4 ? 0 : count - Math.max(1, count / 10);
    int to = before >= 4 ? before : count;
    double[] rest = new double[(to - from) * scan.traces()];
    int n = 0;
    for (int i = 0; i < scan.traces(); i++) {
      for (int j = from; j < to && !dead[i]; j++) {
        rest[n++] = scan.sample(i, j) - median[j];
      }
    }
    double noise = n == 0 ? 0 : RobustFigures.deviation(Arrays.copyOf(rest, n));
    double[] envelope = DirectWave.envelope(median, direct.period());
    double peak = envelope[(int) StrictMath.rint(direct.index())];
    return noise == 0 ? 200 : Math.min(200, 20 * StrictMath.log10(peak / noise));
  }

  /**
   * Energy-weighted mean frequency of the median trace's direct wave, GHz. The window, a squared
   * cosine, runs from a period and a half before its peak to half a period after, so that a bar close
   * below the whole pass has little part in it.
   */
  private static double centroid(Scan scan, float[] median, DirectWave direct) {
    double[] level = DirectWave.level(median, direct.period());
    double[] cut = new double[Fft.fastLength(4 * level.length)];
    for (int j = 0; j < level.length; j++) {
      double off = (j - direct.index()) / direct.period() + 0.5;
      if (Math.abs(off) < 1) {
        double hann = StrictMath.cos(Math.PI * off / 2);
        cut[j] = level[j] * hann * hann;
      }
    }
    Fft fft = Fft.of(cut.length);
    double[] half = fft.forwardReal(cut);
    double energy = 0;
    double moment = 0;
    for (int k = 0; k < fft.bins(); k++) {
      double e = half[2 * k] * half[2 * k] + half[2 * k + 1] * half[2 * k + 1];
      energy += e;
      moment += e * fft.frequency(k, scan.interval().value());
    }
    return energy == 0 ? Double.NaN : moment / energy;
  }

  /** Adds this scan's rows. */
  void rows(Scan scan, AcquisitionLimits limits, CheckRows rows) {
    if (direct.isPresent()) {
      rows.add(
          scan,
          "time-zero drift",
          spread,
          "ns",
          limits.drift().value(),
          spread > limits.drift().value(),
          "5 % to 95 % span of the direct wave's time");
      rows.add(
          scan,
          "direct wave over noise",
          signal,
          "dB",
          limits.signal().value(),
          signal < limits.signal().value(),
          signal >= 200 ? "no noise found" : "");
      double nominal = scan.antenna().centre().inGigahertz();
      double apart = Math.max(centroid / nominal, nominal / centroid);
      rows.add(
          scan,
          "spectrum against centre frequency",
          apart,
          "1",
          2,
          apart > 2,
          "direct wave at " + Units.plain(1000 * centroid, 4) + " MHz, "
              + scan.antenna().centre() + " stated; either way");
    } else {
      rows.missing(scan, "direct wave", why);
    }
    traceRows(scan, limits, rows);
    rows.add(
        scan,
        "clipping",
        clipped,
        "1",
        limits.clipping().value(),
        clipped > limits.clipping().value(),
        "share of samples on flat tops outside the direct wave");
    if (direct.isPresent()) {
      rows.add(
          scan,
          "clipping of the direct wave",
          clippedDirect,
          "1",
          0,
          clippedDirect > 0,
          "share of traces; time zero and envelope suffer");
    }
    double perPeriod = scan.antenna().centre().period().over(scan.interval());
    rows.add(scan, "samples in a period", perPeriod, "1", 6, perPeriod < 6, "at least");
    spacingRows(scan, rows);
  }

  private void traceRows(Scan scan, AcquisitionLimits limits, CheckRows rows) {
    double limit = limits.dropouts().value();
    for (boolean first : new boolean[] {true, false}) {
      boolean[] which = first ? dead : copied;
      int n = 0;
      int run = 0;
      int longest = 0;
      int at = 0;
      for (int i = 0; i < which.length; i++) {
        n += which[i] ? 1 : 0;
        run = which[i] ? run + 1 : 0;
        if (run > longest) {
          longest = run;
          at = i - run + 2;
        }
      }
      double share = n / (double) which.length;
      rows.add(
          scan,
          first ? "dead traces" : "copied traces",
          share,
          "1",
          limit,
          share > limit || longest >= 3,
          n == 0 ? "" : n + " traces, longest run " + longest + " from trace " + at);
    }
  }

  private static void spacingRows(Scan scan, CheckRows rows) {
    if (scan.traces() < 2) {
      rows.missing(scan, "trace spacing", "one trace");
      return;
    }
    double[] along = scan.track().distances();
    double[] steps = new double[along.length - 1];
    for (int i = 0; i < steps.length; i++) {
      steps[i] = along[i + 1] - along[i];
    }
    double middle = RobustFigures.median(steps);
    double largest = RobustFigures.quantile(steps, 1);
    double quarter =
        Velocity.ofPermittivity(8).value() / scan.antenna().centre().inGigahertz() / 4;
    rows.add(
        scan,
        "trace spacing",
        middle,
        "m",
        quarter,
        !(middle <= quarter) || middle == 0,
        "a quarter of the wavelength at permittivity 8");
    rows.add(
        scan,
        "largest step between traces",
        largest,
        "m",
        1.5 * middle,
        largest > 1.5 * middle,
        "one and a half usual steps");
  }
}
