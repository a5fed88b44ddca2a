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

  /** Greatest half aperture, m. */
  private static final double WIDEST = 0.30;

  /** Least cover that is looked for, m. */
  private static final double SHALLOWEST = 0.010;

  /** A field of zeros, or of one echo alone, has no noise: clutter is at least this share of its peak. */
  private static final double LEAST_CLUTTER = 3e-3;

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

  /** Sample of each flattening, bin of distance and apex time; its weight, 0 outside aperture and scan. */
  private final short[][][] samples;

  private final float[][][] weights;

  /** First and last apex time plus one at which a bin has weight. */
  private final int[][] begin;

  private final int[][] end;
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
    int bins = 1 + (int) Math.round(WIDEST / BIN);
    samples = new short[FLATTENINGS.length][bins][times];
    weights = new float[FLATTENINGS.length][bins][times];
    begin = new int[FLATTENINGS.length][bins];
    end = new int[FLATTENINGS.length][bins];
    for (int t = 0; t < times; t++) {
      covers[t] = cover(firstTime + t * timeStep);
      for (int q = 0; q < FLATTENINGS.length; q++) {
        fill(q, t);
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

  private void fill(int q, int t) {
    int n = 1 + (int) Math.round(Curve.aperture(covers[t], FLATTENINGS[q]) / BIN);
    for (int b = 0; b < Math.min(n, samples[q].length); b++) {
      double time =
          Curve.quickTime(b * BIN, covers[t], FLATTENINGS[q], radius, separation, velocity);
      long sample = Math.round(field.sample(time));
      if (sample >= 0 && sample < Math.min(field.samples, Short.MAX_VALUE)) {
        samples[q][b][t] = (short) sample;
        weights[q][b][t] = (float) weight((double) b / n);
        begin[q][b] = end[q][b] == 0 ? t : begin[q][b];
        end[q][b] = t + 1;
      }
    }
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
    double[] smooth = new double[floor.length];
    for (int j = 0; j < floor.length; j++) {
      int from = Math.max(0, j - half);
      int to = Math.min(floor.length - 1, j + half);
      double sum = 0;
      for (int k = from; k <= to; k++) {
        sum += rough[k];
      }
      smooth[j] = sum / (to - from + 1);
    }
    double[] low = lowered(smooth, 2 * half * NEIGHBOUR_PERIODS);
    for (int j = 0; j < floor.length; j++) {
      floor[j] = Math.sqrt(Math.max(least, low[j]));
    }
  }

  /** Each value, or the lower quartile of those within {@code reach} where that is less. */
  static double[] lowered(double[] values, int reach) {
    double[] low = new double[values.length];
    for (int j = 0; j < values.length; j++) {
      int from = Math.max(0, j - reach);
      int to = Math.min(values.length - 1, j + reach);
      double quartile =
          RobustFigures.quantile(java.util.Arrays.copyOfRange(values, from, to + 1), 0.25);
      low[j] = Math.min(values[j], quartile);
    }
    return low;
  }

  /** A mat fills its own times: the clutter there is that of the times around it, in periods. */
  static final int NEIGHBOUR_PERIODS = 3;

  /** Share of the traces that is taken to show clutter only: echoes fill less than the rest. */
  private static final double FLOOR_SHARE = 0.4;

  double floor(double sample) {
    return floor[(int) Math.max(0, Math.min(floor.length - 1, Math.round(sample)))];
  }

  /** Fills {@link #power} with the greatest power over all flattenings, row by row in clutter's unit. */
  void stack(Work work) {
    float[] whitened = new float[2 * field.re.length];
    for (int i = 0; i < field.traces; i++) {
      for (int j = 0; j < field.samples; j++) {
        int at = i * field.samples + j;
        whitened[2 * at] = (float) (field.re[at] / floor[j]);
        whitened[2 * at + 1] = (float) (field.im[at] / floor[j]);
      }
    }
    work.forEach(places, p -> stackPlace(p, whitened));
    normaliseRows();
  }

  private void stackPlace(int p, float[] whitened) {
    double x = place(p);
    int first = field.firstAt(x - WIDEST);
    int last = field.firstAt(x + WIDEST) - 1;
    float[] a = new float[times];
    float[] b = new float[times];
    float[] norm = new float[times];
    float[] best = new float[times];
    byte[] bestQ = new byte[times];
    for (int q = 0; q < FLATTENINGS.length; q++) {
      java.util.Arrays.fill(a, 0);
      java.util.Arrays.fill(b, 0);
      java.util.Arrays.fill(norm, 0);
      for (int i = first; i <= last; i++) {
        int bin = (int) Math.round(Math.abs(field.distance[i] - x) / BIN);
        if (bin < samples[q].length) {
          add(whitened, 2 * i * field.samples, q, bin, a, b, norm);
        }
      }
      for (int t = 0; t < times; t++) {
        float value = norm[t] == 0 ? 0 : (a[t] * a[t] + b[t] * b[t]) / norm[t];
        if (value > best[t]) {
          best[t] = value;
          bestQ[t] = (byte) q;
        }
      }
    }
    System.arraycopy(best, 0, power, p * times, times);
    System.arraycopy(bestQ, 0, flattening, p * times, times);
  }

  /** One trace's part of all apex times: the innermost loop of the search. */
  private void add(float[] whitened, int base, int q, int bin, float[] a, float[] b, float[] norm) {
    short[] at = samples[q][bin];
    float[] weight = weights[q][bin];
    int last = end[q][bin];
    for (int t = begin[q][bin]; t < last; t++) {
      float w = weight[t];
      int s = base + 2 * at[t];
      a[t] += w * whitened[s];
      b[t] += w * whitened[s + 1];
      norm[t] += w * w;
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
    double[] scale = new double[times];
    for (int t = 0; t < times; t++) {
      double[] row = new double[places];
      for (int p = 0; p < places; p++) {
        row[p] = power[p * times + t];
      }
      scale[t] = RobustFigures.quantile(row, 1.0 / 3) / NOISE_THIRD;
    }
    int reach = (int) Math.round(NEIGHBOUR_PERIODS * field.period() / timeStep);
    double[] low = lowered(scale, reach);
    for (int t = 0; t < times; t++) {
      for (int p = 0; p < places; p++) {
        power[p * times + t] = (float) (power[p * times + t] / Math.max(1, low[t]));
      }
    }
  }

  /**
   * Lower third of the greatest of the powers of all flattenings for independent noise. Found by
   * simulation, not from theory: neighbouring flattenings share most of their samples.
   */
  private static final double NOISE_THIRD = 1.9;
}
