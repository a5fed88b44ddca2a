package org.slabnote.forward;

import java.util.SplittableRandom;

/** Weak point scatterers at places fixed in the slab: the stones, as clutter. */
final class Aggregate {
  /** Side of the cell that holds one scatterer, metres. */
  private static final double CELL = 0.03;
  /** How far to each side of the antenna they are summed up, metres. */
  private static final double REACH = 0.09;

  private final long seed;
  private final double half;
  private final double ux;
  private final double uy;
  private final double level;
  private final double[] unit;
  private final double alpha0;
  private final double alphaStep;
  private final double beta0;
  private final double betaStep;
  private final int layers;

  /** Separation in metres; (ux, uy) is the travel direction. */
  Aggregate(
      SlabModel model,
      Medium medium,
      Grid grid,
      long seed,
      double separation,
      double ux,
      double uy) {
    this.seed = seed;
    this.half = separation / 2;
    this.ux = ux;
    this.uy = uy;
    level = model.instrument().clutter().amplitude();
    int n = grid.size();
    double steps = Math.max(1, n - 1);
    alpha0 = medium.alpha[0];
    alphaStep = (medium.alpha[n - 1] - medium.alpha[0]) / steps;
    beta0 = medium.beta[0];
    betaStep = (medium.beta[n - 1] - medium.beta[0]) / steps;
    unit = new double[n];
    for (int f = 0; f < n; f++) {
      double ratio = grid.frequencies[f] / model.instrument().pulse().inGigahertz();
      unit[f] = ratio
          * ratio
          * Math.sqrt(RayTracer.UNIT_PATH / 0.2)
          * Math.sqrt(2 / (StrictMath.PI * medium.beta[f] * 0.2));
    }
    layers = (int) Math.floor(model.concrete().thickness().value() / CELL);
  }

  /** Adds the scatterers near a place. */
  void add(Spectrum sum, double x, double y) {
    if (level == 0) {
      return;
    }
    int reach = (int) Math.ceil(REACH / CELL);
    int i0 = (int) Math.floor(x / CELL);
    int j0 = (int) Math.floor(y / CELL);
    for (int i = i0 - reach; i <= i0 + reach; i++) {
      for (int j = j0 - reach; j <= j0 + reach; j++) {
        for (int k = 0; k < layers; k++) {
          addOne(sum, x, y, i, j, k);
        }
      }
    }
  }

  private void addOne(Spectrum sum, double x, double y, int i, int j, int k) {
    SplittableRandom random = new SplittableRandom(
        seed ^ ((long) i * 73856093L) ^ ((long) j * 19349663L) ^ ((long) k * 83492791L));
    double dx = (i + random.nextDouble()) * CELL - x;
    double dy = (j + random.nextDouble()) * CELL - y;
    double z = Math.max(0.01, (k + random.nextDouble()) * CELL);
    double strength = 2 * random.nextDouble() - 1;
    double flat = dx * dx + dy * dy;
    if (flat > REACH * REACH) {
      return;
    }
    double alongTrack = dx * ux + dy * uy;
    double rest = flat - alongTrack * alongTrack + z * z;
    double path = Math.sqrt((alongTrack - half) * (alongTrack - half) + rest)
        + Math.sqrt((alongTrack + half) * (alongTrack + half) + rest);
    // amplitude falls to zero at the edge of the reach, so that none appears or ends abruptly
    double edge = 1 - flat / (REACH * REACH);
    double base = level * strength * edge * edge * 0.2 / path;
    // loss and phase grow evenly with frequency here, so each bin follows from the one before
    double re = StrictMath.exp(-alpha0 * path);
    double turn = -beta0 * path;
    double im = re * StrictMath.sin(turn);
    re *= StrictMath.cos(turn);
    double shrink = StrictMath.exp(-alphaStep * path);
    double stepRe = shrink * StrictMath.cos(-betaStep * path);
    double stepIm = shrink * StrictMath.sin(-betaStep * path);
    for (int f = 0; f < unit.length; f++) {
      sum.add(f, base * unit[f] * re, base * unit[f] * im);
      double next = re * stepRe - im * stepIm;
      im = re * stepIm + im * stepRe;
      re = next;
    }
  }
}
