package org.slabnote.polarization;

import java.util.Optional;
import org.slabnote.api.Scan;
import org.slabnote.api.Work;
import org.slabnote.methods.fit.RobustFigures;
import org.slabnote.methods.signal.AnalyticSignal;

/** Envelope of a pass's median trace: what is there all along the pass. */
final class MedianTrace {
  private final double[] envelope;
  private final double start;
  private final double interval;

  private MedianTrace(double[] envelope, double start, double interval) {
    this.envelope = envelope;
    this.start = start;
    this.interval = interval;
  }

  static MedianTrace of(Scan scan, Work work) {
    double[] median = new double[scan.axis().count()];
    double[] column = new double[scan.traces()];
    for (int j = 0; j < median.length; j++) {
      work.checkCancelled();
      for (int i = 0; i < column.length; i++) {
        column[i] = scan.sample(i, j);
      }
      median[j] = RobustFigures.median(column);
    }
    return new MedianTrace(
        AnalyticSignal.of(median).envelope(),
        scan.axis().start().value() - scan.requireSurface().value().value(),
        scan.interval().value());
  }

  double end() {
    return start + (envelope.length - 1) * interval;
  }

  /** A flat echo: time from the surface, envelope. */
  record Flat(double time, double height) {}

  /** Greatest peak in a window, if it stands {@code clear} times above the median beside it. */
  Optional<Flat> strongest(double from, double to, double period, double clear) {
    int low = Math.max(1, (int) Math.ceil((from - start) / interval));
    int high = Math.min(envelope.length - 2, (int) Math.floor((to - start) / interval));
    int at = -1;
    for (int j = low; j <= high; j++) {
      boolean peak = envelope[j] > envelope[j - 1] && envelope[j] >= envelope[j + 1];
      at = peak && (at < 0 || envelope[j] > envelope[at]) ? j : at;
    }
    if (at < 0) {
      return Optional.empty();
    }
    int inner = (int) Math.round(1.2 * period / interval);
    int outer = (int) Math.round(4 * period / interval);
    double[] beside = new double[2 * (outer - inner) + 2];
    int n = 0;
    for (int j = Math.max(0, at - outer); j <= Math.min(envelope.length - 1, at + outer); j++) {
      if (Math.abs(j - at) > inner && n < beside.length) {
        beside[n++] = envelope[j];
      }
    }
    if (n < 4 || envelope[at] < clear * RobustFigures.median(java.util.Arrays.copyOf(beside, n))) {
      return Optional.empty();
    }
    double a = envelope[at - 1];
    double b = envelope[at];
    double c = envelope[at + 1];
    double bend = a - 2 * b + c;
    double shift = bend < 0 ? (a - c) / (2 * bend) : 0;
    return Optional.of(new Flat(start + (at + shift) * interval, b - (a - c) * shift / 4));
  }
}
