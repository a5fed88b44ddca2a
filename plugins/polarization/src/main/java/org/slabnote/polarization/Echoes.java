package org.slabnote.polarization;

import org.slabnote.api.Scan;
import org.slabnote.api.Work;
import org.slabnote.methods.fit.RobustFigures;
import org.slabnote.methods.signal.AnalyticSignal;

/**
 * Analytic signal of a scan with its constant part taken out: from each sample the median of its
 * time over the pass, which holds the direct wave and not the echo of a target under a few traces.
 * A mean that was taken out before is made good by it.
 */
final class Echoes {
  final double[] distance;
  final double interval;
  final double start;
  final int samples;
  private final double[][] re;
  private final double[][] im;
  private final double[] quiet;

  private Echoes(Scan scan, boolean isolate, Work work) {
    distance = scan.track().distances();
    interval = scan.interval().value();
    start = scan.axis().start().value() - scan.requireSurface().value().value();
    samples = scan.axis().count();
    int n = scan.traces();
    double[] steady = new double[samples];
    if (isolate && n > 2) {
      double[] column = new double[n];
      for (int j = 0; j < samples; j++) {
        work.checkCancelled();
        for (int i = 0; i < n; i++) {
          column[i] = scan.sample(i, j);
        }
        steady[j] = RobustFigures.median(column);
      }
    }
    re = new double[n][samples];
    im = new double[n][samples];
    double[] trace = new double[samples];
    for (int i = 0; i < n; i++) {
      work.checkCancelled();
      for (int j = 0; j < samples; j++) {
        trace[j] = scan.sample(i, j) - steady[j];
      }
      AnalyticSignal a = AnalyticSignal.of(trace);
      for (int j = 0; j < samples; j++) {
        re[i][j] = a.real(j);
        im[i][j] = a.imaginary(j);
      }
    }
    quiet = quiet(work);
  }

  static Echoes isolated(Scan scan, Work work) {
    return new Echoes(scan, true, work);
  }

  static Echoes whole(Scan scan, Work work) {
    return new Echoes(scan, false, work);
  }

  double envelope(int i, int j) {
    return Math.sqrt(re[i][j] * re[i][j] + im[i][j] * im[i][j]);
  }

  double time(double j) {
    return start + j * interval;
  }

  double sample(double time) {
    return (time - start) / interval;
  }

  /** Trace nearest to a distance along the pass. */
  int trace(double place) {
    int best = 0;
    for (int i = 1; i < distance.length; i++) {
      if (Math.abs(distance[i] - place) < Math.abs(distance[best] - place)) {
        best = i;
      }
    }
    return best;
  }

  double real(int i, int j) {
    return re[i][j];
  }

  double imaginary(int i, int j) {
    return im[i][j];
  }

  /**
   * Root mean square modulus of clutter about a time: mean over the window of the quarter of the
   * traces that are quietest at each sample, as noise has it (Rayleigh). Targets that stand close
   * then count less than by the mean.
   */
  double clutter(double time, double half) {
    int low = Math.max(0, (int) Math.ceil(sample(time - half)));
    int high = Math.min(samples - 1, (int) Math.floor(sample(time + half)));
    double sum = 0;
    for (int j = low; j <= high; j++) {
      sum += quiet[j];
    }
    return high < low ? 0 : sum / (high - low + 1);
  }

  private double[] quiet(Work work) {
    int stride = Math.max(1, distance.length / 100);
    double[] column = new double[(distance.length + stride - 1) / stride];
    double[] levels = new double[samples];
    for (int j = 0; j < samples; j++) {
      work.checkCancelled();
      for (int k = 0; k < column.length; k++) {
        column[k] = envelope(k * stride, j);
      }
      levels[j] = RobustFigures.quantile(column, 0.25) / Math.sqrt(StrictMath.log(4.0 / 3));
    }
    return levels;
  }
}
