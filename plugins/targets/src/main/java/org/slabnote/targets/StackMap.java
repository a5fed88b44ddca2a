package org.slabnote.targets;

import org.slabnote.api.Work;
import org.slabnote.methods.fit.RobustFigures;

/**
 * Sums a field along diffraction curves over apex place, apex time and flattening.
 *
 * <p>Each trace is divided by the clutter of its time, so that for noise the power {@code |sum w a|^2 /
 * sum w^2} has mean 1 and is exponentially distributed: the false-alarm rate follows from that.
 */
final class StackMap {
  /** Sines of the crossing angle that are tried; above 1 for a velocity assumed too high. */
  private static final double[] FLATTENINGS = {
    1.18, 1.08, 0.99, 0.90, 0.81, 0.73, 0.65, 0.58, 0.51, 0.45
  };

  /** Width of a bin of distance in the table of curves, m. */
  private static final double BIN = 0.002;

  /** Least cover that is looked for, m. */
  private static final double SHALLOWEST = 0.010;

  /** A field of zeros, or of one echo alone, has no noise: clutter is at least this share of its peak. */
  private static final double LEAST_CLUTTER = 1e-3;

  private final EchoField field;
  private final double radius;
  private final double separation;
  private final double velocity;
  private final double[] floor;
  final double placeStep;
  final double timeStep;
  final int places;
  final int times;
  private final double firstTime;
  private final double[] covers;
  private final short[][][] table;
  final float[] power;
  final byte[] flattening;

  StackMap(EchoField field, double radius, double separation, double velocity) {
    this.field = field;
    this.radius = radius;
    this.separation = separation;
    this.velocity = velocity;
    this.floor = new double[field.samples];
    placeStep = Math.max(field.spacing(), velocity / field.frequency / 8);
    timeStep = field.period() / 6;
    firstTime = Math.max(field.start, pathTime(SHALLOWEST));
    places = 1 + (int) Math.floor(field.length() / placeStep);
    times = Math.max(0, 1 + (int) Math.floor((field.end() - firstTime) / timeStep));
    covers = new double[times];
    table = new short[times][FLATTENINGS.length][];
    for (int t = 0; t < times; t++) {
      covers[t] = cover(firstTime + t * timeStep);
      for (int q = 0; q < FLATTENINGS.length; q++) {
        table[t][q] = samples(covers[t], FLATTENINGS[q]);
      }
    }
    power = new float[places * times];
    flattening = new byte[places * times];
  }

  private double pathTime(double cover) {
    return Math.sqrt(4 * cover * cover + separation * separation) / velocity;
  }

  double cover(double time) {
    double path = velocity * time;
    return Math.sqrt(Math.max(0, path * path - separation * separation)) / 2;
  }

  private short[] samples(double cover, double q) {
    short[] row = new short[1 + (int) Math.round(Curve.aperture(cover, q) / BIN)];
    for (int b = 0; b < row.length; b++) {
      double t = Curve.quickTime(b * BIN, cover, q, radius, separation, velocity);
      row[b] = (short) Math.min(Short.MAX_VALUE, Math.round(field.sample(t)));
    }
    return row;
  }

  double place(int p) {
    return p * placeStep;
  }

  Curve curve(int p, int t) {
    double q = FLATTENINGS[flattening[p * times + t]];
    return new Curve(place(p), covers[t], q, radius, separation, velocity);
  }

  /** Number of cells that noise fills independently: a cell's neighbours share most of its traces. */
  double independentCells() {
    return Math.max(1.0, (double) places * times * FLATTENINGS.length / 8);
  }

  /** Computes the clutter of each time from the field as it now is. */
  void measureFloor(Work work) {
    double[] rough = new double[field.samples];
    double[] most = new double[field.samples];
    work.forEach(field.samples, j -> {
      double[] column = new double[field.traces];
      for (int i = 0; i < column.length; i++) {
        double e = field.envelope(i, j);
        column[i] = e * e;
        most[j] = Math.max(most[j], column[i]);
      }
      rough[j] = RobustFigures.quantile(column, FLOOR_SHARE) / -StrictMath.log(1 - FLOOR_SHARE);
    });
    double peak = 0;
    for (double m : most) {
      peak = Math.max(peak, m);
    }
    int half = (int) Math.round(field.period() / field.interval / 2);
    double least = peak == 0 ? 1 : peak * LEAST_CLUTTER * LEAST_CLUTTER;
    for (int j = 0; j < floor.length; j++) {
      int from = Math.max(0, j - half);
      int to = Math.min(floor.length - 1, j + half);
      double sum = 0;
      for (int k = from; k <= to; k++) {
        sum += rough[k];
      }
      floor[j] = Math.sqrt(Math.max(least, sum / (to - from + 1)));
    }
  }

  /** Share of the traces that is taken to show clutter only: echoes fill less than the rest. */
  private static final double FLOOR_SHARE = 0.4;

  double floor(double sample) {
    return floor[(int) Math.max(0, Math.min(floor.length - 1, Math.round(sample)))];
  }

  /** Fills {@link #power} with the greatest power over all flattenings, row by row in clutter's unit. */
  void stack(Work work) {
    float[] wre = new float[field.re.length];
    float[] wim = new float[field.im.length];
    for (int i = 0; i < field.traces; i++) {
      for (int j = 0; j < field.samples; j++) {
        int at = i * field.samples + j;
        wre[at] = (float) (field.re[at] / floor[j]);
        wim[at] = (float) (field.im[at] / floor[j]);
      }
    }
    work.forEach(places, p -> stackPlace(p, wre, wim));
    normaliseRows();
  }

  private void stackPlace(int p, float[] wre, float[] wim) {
    double x = place(p);
    int m = field.samples;
    int widest = 1 + (int) Math.round(0.30 / BIN);
    int first = field.firstAt(x - widest * BIN);
    int last = field.firstAt(x + widest * BIN) - 1;
    int[] bin = new int[Math.max(0, last - first + 1)];
    for (int i = first; i <= last; i++) {
      bin[i - first] = (int) Math.round(Math.abs(field.distance[i] - x) / BIN);
    }
    for (int t = 0; t < times; t++) {
      double best = 0;
      int bestQ = 0;
      for (int q = 0; q < FLATTENINGS.length; q++) {
        short[] row = table[t][q];
        int n = row.length;
        double a = 0;
        double b = 0;
        double norm = 0;
        double full = 0;
        for (int k = 0; k < bin.length; k++) {
          int d = bin[k];
          if (d >= n) {
            continue;
          }
          double w = weight((double) d / n);
          full += w;
          int s = row[d];
          if (s < 0 || s >= m) {
            continue;
          }
          int at = (first + k) * m + s;
          a += w * wre[at];
          b += w * wim[at];
          norm += w * w;
        }
        double value = norm == 0 || full == 0 ? 0 : (a * a + b * b) / norm;
        if (value > best) {
          best = value;
          bestQ = q;
        }
      }
      power[p * times + t] = (float) best;
      flattening[p * times + t] = (byte) bestQ;
    }
  }

  /** Weight of a trace at a share of the aperture, 1 in the middle: a parabola. */
  static double weight(double share) {
    return Math.max(0, 1 - 0.8 * share * share);
  }

  /**
   * Clutter that is alike on neighbouring traces sums to more than noise does: rows whose lower third
   * shows it are divided by it.
   */
  private void normaliseRows() {
    double expected = NOISE_THIRD;
    for (int t = 0; t < times; t++) {
      double[] row = new double[places];
      for (int p = 0; p < places; p++) {
        row[p] = power[p * times + t];
      }
      double scale = Math.max(1, RobustFigures.quantile(row, 1.0 / 3) / expected);
      for (int p = 0; p < places; p++) {
        power[p * times + t] = (float) (power[p * times + t] / scale);
      }
    }
  }

  /**
   * Lower third of the greatest of the powers of all flattenings for independent noise. Found by
   * simulation, not from theory: neighbouring flattenings share most of their samples.
   */
  private static final double NOISE_THIRD = 1.9;
}
