package org.slabnote.targets;

/**
 * One echo, lifted out of a field along its curve.
 *
 * <p>In a window of 1.2 periods to each side of the curve, the field is averaged along the curve over
 * 25 mm to each side, samples shifted to the curve's time with their phase. The average follows slow
 * changes of phase, amplitude and shadow along the arms; what crosses the curve at another slope
 * averages out and stays in the field.
 */
final class Echo {
  private static final double HALF_AVERAGE = 0.025;
  private static final double HALF_WINDOW_PERIODS = 1.2;

  private static final double FLAT_PERIODS = 0.8;

  /** Half the length of pass along which an echo is lifted, in apertures of its curve. */
  private static final double REACH = 2.5;

  private final int first;
  private final int[] centre;
  private final float[][] re;
  private final float[][] im;
  private final int half;

  private Echo(int first, int[] centre, float[][] re, float[][] im, int half) {
    this.first = first;
    this.centre = centre;
    this.re = re;
    this.im = im;
    this.half = half;
  }

  /** Lifts the echo along a curve out of the field: the field loses it. */
  static Echo lift(EchoField field, Curve curve) {
    double reach = Math.min(0.5, REACH * curve.aperture());
    int first = field.firstAt(curve.apex() - reach);
    int n = Math.max(0, field.firstAt(curve.apex() + reach) - first);
    int half = (int) Math.round(HALF_WINDOW_PERIODS * field.period() / field.interval);
    int[] centre = new int[n];
    float[][] sre = new float[n][2 * half + 1];
    float[][] sim = new float[n][2 * half + 1];
    double[] cos = new double[n];
    double[] sin = new double[n];
    for (int k = 0; k < n; k++) {
      double at = field.sample(curve.time(field.distance[first + k]));
      centre[k] = (int) Math.round(at);
      double turn = 2 * StrictMath.PI * field.frequency * (at - centre[k]) * field.interval;
      cos[k] = StrictMath.cos(turn);
      sin[k] = StrictMath.sin(turn);
      cut(field, first + k, centre[k], half, cos[k], sin[k], sre[k], sim[k]);
    }
    float[][] re = new float[n][2 * half + 1];
    float[][] im = new float[n][2 * half + 1];
    for (int k = 0; k < n; k++) {
      average(field, first, k, sre, sim, re[k], im[k]);
      for (int j = 0; j <= 2 * half; j++) { // back to the field's own samples
        double w = taper(Math.abs(j - half) / (double) half);
        double a = re[k][j] * w;
        double b = im[k][j] * w;
        re[k][j] = (float) (a * cos[k] - b * sin[k]);
        im[k][j] = (float) (a * sin[k] + b * cos[k]);
      }
    }
    Echo echo = new Echo(first, centre, re, im, half);
    echo.add(field, -1);
    return echo;
  }

  private static void cut(
      EchoField f, int trace, int centre, int half, double c, double s, float[] re, float[] im) {
    for (int j = 0; j <= 2 * half; j++) {
      int at = centre + j - half;
      if (at >= 0 && at < f.samples) {
        double a = f.re[trace * f.samples + at];
        double b = f.im[trace * f.samples + at];
        re[j] = (float) (a * c + b * s);
        im[j] = (float) (b * c - a * s);
      }
    }
  }

  private static void average(
      EchoField f, int first, int k, float[][] sre, float[][] sim, float[] re, float[] im) {
    double x = f.distance[first + k];
    int n = 0;
    for (int i = Math.max(0, k - sre.length); i < sre.length; i++) {
      double off = f.distance[first + i] - x;
      boolean neighbour = Math.abs(i - k) <= 2;
      if (off > HALF_AVERAGE && !neighbour) {
        break;
      }
      if (off < -HALF_AVERAGE && !neighbour) {
        continue;
      }
      n++;
      for (int j = 0; j < re.length; j++) {
        re[j] += sre[i][j];
        im[j] += sim[i][j];
      }
    }
    for (int j = 0; j < re.length; j++) {
      re[j] /= n;
      im[j] /= n;
    }
  }

  /** 1 up to 0.8 periods, then down to 0 as a cosine. */
  private static double taper(double share) {
    double flat = FLAT_PERIODS / HALF_WINDOW_PERIODS;
    return share <= flat
        ? 1
        : 0.5 + 0.5 * StrictMath.cos(StrictMath.PI * (share - flat) / (1 - flat));
  }

  /** Adds the echo to the field, {@code sign} times. */
  void add(EchoField field, int sign) {
    for (int k = 0; k < centre.length; k++) {
      int base = (first + k) * field.samples;
      for (int j = 0; j <= 2 * half; j++) {
        int at = centre[k] + j - half;
        if (at >= 0 && at < field.samples) {
          field.re[base + at] += sign * re[k][j];
          field.im[base + at] += sign * im[k][j];
        }
      }
    }
  }
}
