package org.slabnote.targets;

import org.slabnote.api.Scan;
import org.slabnote.api.Work;
import org.slabnote.methods.signal.AnalyticSignal;

/**
 * The analytic signal of a scan, trace by trace, on a time axis that starts at the surface.
 *
 * <p>Where the scan has fewer than {@value #PER_PERIOD} samples in a period, values are set between
 * them: linearly on the signal turned back by its mean frequency, which leaves an error of about one
 * part in a hundred at ten samples a period. Mutable: explained echoes are taken out of it.
 */
final class EchoField {
  private static final int PER_PERIOD = 20;

  final int traces;
  final int samples;
  final double interval;
  final double start;
  final double frequency;
  final double[] distance;
  final float[] re;
  final float[] im;

  private EchoField(
      int traces, int samples, double interval, double start, double frequency, double[] distance) {
    this.traces = traces;
    this.samples = samples;
    this.interval = interval;
    this.start = start;
    this.frequency = frequency;
    this.distance = distance;
    this.re = new float[traces * samples];
    this.im = new float[traces * samples];
  }

  /** Computes the field; {@code surface} is the surface time on the scan's axis, ns. */
  static EchoField of(Scan scan, double surface, Work work) {
    int n = scan.traces();
    int m = scan.axis().count();
    double dt = scan.interval().value();
    AnalyticSignal[] signals = new AnalyticSignal[n];
    work.forEach(n, i -> signals[i] = AnalyticSignal.of(scan.trace(i)));
    double f = meanFrequency(signals, dt, scan.antenna().centre().inGigahertz());
    int finer = (int) Math.max(1, Math.ceil(dt * f * PER_PERIOD - 1e-9));
    int samples = (m - 1) * finer + 1;
    EchoField field = new EchoField(
        n,
        samples,
        dt / finer,
        scan.axis().start().value() - surface,
        f,
        scan.track().distances());
    work.forEach(n, i -> field.fill(i, signals[i], finer));
    return field;
  }

  private void fill(int trace, AnalyticSignal signal, int finer) {
    double turn = 2 * StrictMath.PI * frequency * interval;
    for (int j = 0; j < samples; j++) {
      int low = Math.min(j / finer, signal.length() - 1);
      int part = j - low * finer;
      double real = signal.real(low);
      double imaginary = signal.imaginary(low);
      if (part > 0) {
        double w = (double) part / finer;
        double c0 = StrictMath.cos(turn * part);
        double s0 = StrictMath.sin(turn * part);
        double c1 = StrictMath.cos(turn * (part - finer));
        double s1 = StrictMath.sin(turn * (part - finer));
        double r1 = signal.real(low + 1);
        double i1 = signal.imaginary(low + 1);
        double r = (1 - w) * (real * c0 - imaginary * s0) + w * (r1 * c1 - i1 * s1);
        imaginary = (1 - w) * (real * s0 + imaginary * c0) + w * (r1 * s1 + i1 * c1);
        real = r;
      }
      re[trace * samples + j] = (float) real;
      im[trace * samples + j] = (float) imaginary;
    }
  }

  /**
   * Power-weighted mean frequency, GHz: the mean turn from sample to sample. Kept within a third and
   * one and a half of the antenna's nominal frequency, which it replaces; that one where all is zero.
   */
  private static double meanFrequency(AnalyticSignal[] signals, double dt, double nominal) {
    double real = 0;
    double imaginary = 0;
    for (AnalyticSignal s : signals) {
      for (int j = 0; j + 1 < s.length(); j++) {
        double a = s.real(j);
        double b = s.imaginary(j);
        double c = s.real(j + 1);
        double d = s.imaginary(j + 1);
        real += a * c + b * d;
        imaginary += a * d - b * c;
      }
    }
    if (real == 0 && imaginary == 0) {
      return nominal;
    }
    double f = StrictMath.atan2(imaginary, real) / (2 * StrictMath.PI * dt);
    return Math.max(nominal / 3, Math.min(1.5 * nominal, f));
  }

  double period() {
    return 1 / frequency;
  }

  double time(double sample) {
    return start + sample * interval;
  }

  double end() {
    return time(samples - 1);
  }

  double sample(double time) {
    return (time - start) / interval;
  }

  /** Mean distance between traces, m; 0 for a single trace. */
  double spacing() {
    return traces < 2 ? 0 : distance[traces - 1] / (traces - 1);
  }

  double length() {
    return distance[traces - 1];
  }

  double envelope(int trace, int sample) {
    double a = re[trace * samples + sample];
    double b = im[trace * samples + sample];
    return Math.sqrt(a * a + b * b);
  }

  /** First trace at or beyond a distance; {@code traces} where there is none. */
  int firstAt(double at) {
    int low = 0;
    int high = traces;
    while (low < high) {
      int middle = (low + high) >>> 1;
      if (distance[middle] < at) {
        low = middle + 1;
      } else {
        high = middle;
      }
    }
    return low;
  }

  /** The trace nearest to a distance. */
  int nearest(double at) {
    int i = firstAt(at);
    if (i == 0) {
      return 0;
    }
    return i == traces || at - distance[i - 1] <= distance[i] - at ? i - 1 : i;
  }
}
