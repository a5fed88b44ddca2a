package org.slabnote.velocity;

import org.slabnote.api.Scan;
import org.slabnote.api.Work;
import org.slabnote.methods.fit.RobustFigures;
import org.slabnote.methods.signal.AnalyticSignal;

/** Analytic signal of every trace of a scan, with its clutter level and its period. */
final class EnvelopeSection {
  /** Share of samples that lie below the stated clutter level: few where bars stand close. */
  private static final double QUIET = 0.2;

  final double[] distance;
  final double step;
  final double interval;
  final double start;
  final int samples;
  final double period;
  private final float[][] real;
  private final float[][] imaginary;
  private final float[][] envelope;
  private final double[] clutter;

  private EnvelopeSection(Scan scan, float[][] re, float[][] im, float[][] env) {
    distance = scan.track().distances();
    interval = scan.interval().value();
    start = scan.axis().start().value() - scan.requireSurface().value().value();
    samples = scan.axis().count();
    real = re;
    imaginary = im;
    envelope = env;
    step = distance.length > 1 ? distance[distance.length - 1] / (distance.length - 1) : 0;
    double nominal = scan.antenna().centre().period().value();
    period = period(nominal);
    clutter = clutterLevels();
  }

  static EnvelopeSection of(Scan scan, Work work) {
    int n = scan.traces();
    float[][] re = new float[n][];
    float[][] im = new float[n][];
    float[][] env = new float[n][];
    work.forEach(n, i -> {
      AnalyticSignal a = AnalyticSignal.of(scan.trace(i));
      float[] r = new float[a.length()];
      float[] q = new float[a.length()];
      float[] e = new float[a.length()];
      for (int j = 0; j < r.length; j++) {
        r[j] = (float) a.real(j);
        q[j] = (float) a.imaginary(j);
        e[j] = (float) a.envelope(j);
      }
      re[i] = r;
      im[i] = q;
      env[i] = e;
    });
    return new EnvelopeSection(scan, re, im, env);
  }

  int traces() {
    return distance.length;
  }

  float envelope(int i, int j) {
    return envelope[i][j];
  }

  float real(int i, int j) {
    return real[i][j];
  }

  float imaginary(int i, int j) {
    return imaginary[i][j];
  }

  /** Time from the surface of a sample. */
  double time(double j) {
    return start + j * interval;
  }

  /** Fractional sample of a time from the surface. */
  double sample(double time) {
    return (time - start) / interval;
  }

  /** Level that a quiet trace shows at this sample, in the scan's unit. */
  double clutter(int j) {
    return clutter[j];
  }

  boolean isPeak(int i, int j) {
    float[] e = envelope[i];
    return j > 0 && j < samples - 1 && e[j] > e[j - 1] && e[j] >= e[j + 1];
  }

  /** Sample of a peak refined by a parabola through the logarithms of three. */
  double refined(int i, int j) {
    double a = StrictMath.log(Math.max(envelope[i][j - 1], Float.MIN_NORMAL));
    double b = StrictMath.log(Math.max(envelope[i][j], Float.MIN_NORMAL));
    double c = StrictMath.log(Math.max(envelope[i][j + 1], Float.MIN_NORMAL));
    double bend = a - 2 * b + c;
    return bend < 0 ? j + Math.max(-0.5, Math.min(0.5, (a - c) / (2 * bend))) : j;
  }

  /**
   * Period of the echoes: mean instantaneous frequency weighted by power, kept within half to twice
   * the antenna's, which noise would leave.
   */
  private double period(double nominal) {
    double turn = 0;
    double power = 0;
    for (int i = 0; i < envelope.length; i++) {
      for (int j = 0; j + 1 < samples; j++) {
        turn +=
            real[i][j] * (double) imaginary[i][j + 1] - imaginary[i][j] * (double) real[i][j + 1];
        power +=
            real[i][j] * (double) real[i][j + 1] + imaginary[i][j] * (double) imaginary[i][j + 1];
      }
    }
    double angle = StrictMath.atan2(turn, power);
    double own = angle > 0 ? 2 * Math.PI * interval / angle : nominal;
    return Math.max(nominal / 2, Math.min(2 * nominal, own));
  }

  private double[] clutterLevels() {
    double[] raw = new double[samples];
    double[] column = new double[envelope.length];
    for (int j = 0; j < samples; j++) {
      for (int i = 0; i < column.length; i++) {
        column[i] = envelope[i][j];
      }
      raw[j] = RobustFigures.quantile(column, QUIET);
    }
    int half = Math.max(1, (int) Math.round(period / interval));
    double[] smooth = new double[samples];
    for (int j = 0; j < samples; j++) {
      double sum = 0;
      int from = Math.max(0, j - half);
      int to = Math.min(samples - 1, j + half);
      for (int k = from; k <= to; k++) {
        sum += raw[k];
      }
      smooth[j] = sum / (to - from + 1);
    }
    return smooth;
  }
}
