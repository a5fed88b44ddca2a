package org.slabnote.forward;

import java.util.List;

/**
 * What is left of the wave beneath cylinders: incident plus forward-scattered field.
 *
 * <p>For a cylinder that passes at distance {@code d} from the leg, {@code r1} below the antenna and
 * {@code r2} above the leg's end: {@code 1 + sqrt(2 j / (pi k)) S(0) sqrt((r1 + r2) / (r1 r2)) exp(-j
 * k (rho1 + rho2 - r1 - r2))}, rho the legs by way of the axis, S(0) the forward amplitude of the
 * cylinder series for the field along or square to its axis. Only the forward lobe is told: the term
 * fades to zero where the way by the axis turns by {@link #WIDEST}; r1 and r2 are taken as at least twice the radius, since
 * the far field does not hold nearer, and the sum's modulus as at most 1.3.
 */
final class Shadows {
  /** Distance at which a cylinder no longer counts, metres; its weight falls evenly to there. */
  private static final double REACH = 0.1;

  private static final double MOST = 1.3;
  /** Turn of the way by the axis at which the forward lobe has faded, radians (70 degrees). */
  private static final double WIDEST = 70 * StrictMath.PI / 180;

  private final List<Run> runs;
  private final Medium medium;
  private final EchoTables echoes;

  Shadows(List<Run> runs, Medium medium, EchoTables echoes) {
    this.runs = runs;
    this.medium = medium;
    this.echoes = echoes;
  }

  /** Returns the factor on one leg from (x, y, 0) to {@code end}, for a dipole direction. */
  Spectrum leg(
      @org.jspecify.annotations.Nullable Run target,
      double x,
      double y,
      double[] end,
      double dipoleX,
      double dipoleY) {
    Spectrum factor = new Spectrum(medium.alpha.length);
    java.util.Arrays.fill(factor.re, 1);
    double dx = end[0] - x;
    double dy = end[1] - y;
    double length = Math.sqrt(dx * dx + dy * dy + end[2] * end[2]);
    for (Run run : runs) {
      if (run == target || (target != null && run.cylinder.equals(target.cylinder))) {
        continue;
      }
      // where the leg is as deep as the cylinder's axis near it
      double foot = run.foot(x, y, 0);
      double share = run.depthAt(foot) / end[2];
      if (share >= 0.98 || run.weight(foot) == 0) {
        continue;
      }
      double px = x + share * dx;
      double py = y + share * dy;
      double tilt = Math.sqrt(1 - StrictMath.pow((dx * run.nx + dy * run.ny) / length, 2));
      double d = Math.abs(run.offset(px, py)) * tilt;
      if (d < REACH) {
        double r1 = Math.max(share * length, 2 * run.radius);
        double r2 = Math.max((1 - share) * length, 2 * run.radius);
        double along = dipoleX * run.ax + dipoleY * run.ay;
        double square = dipoleX * run.nx + dipoleY * run.ny;
        shade(factor, run, d, r1, r2, along * along, square * square);
      }
    }
    return factor;
  }

  private void shade(
      Spectrum factor, Run run, double d, double r1, double r2, double along2, double square2) {
    EchoTables.Pattern pattern = echoes.pattern(run.cylinder);
    double total = along2 + square2;
    double turn = StrictMath.atan2(d, r1) + StrictMath.atan2(d, r2);
    if (turn >= WIDEST) {
      return;
    }
    double lobe = 1 - turn * turn / (WIDEST * WIDEST);
    double reach = Math.sqrt((r1 + r2) / (r1 * r2)) * (1 - d / REACH) * lobe * lobe;
    double detour = Math.sqrt(r1 * r1 + d * d) + Math.sqrt(r2 * r2 + d * d) - r1 - r2;
    for (int k = 0; k < factor.re.length; k++) {
      double beta = medium.beta[k];
      double scale = reach * Math.sqrt(2 / (StrictMath.PI * beta)) / total;
      double phase = StrictMath.PI / 4 - beta * detour;
      double sRe =
          (along2 * pattern.forwardParallelRe(k) + square2 * pattern.forwardSquareRe(k)) * scale;
      double sIm =
          (along2 * pattern.forwardParallelIm(k) + square2 * pattern.forwardSquareIm(k)) * scale;
      double c = StrictMath.cos(phase);
      double s = StrictMath.sin(phase);
      double re = 1 + sRe * c - sIm * s;
      double im = sRe * s + sIm * c;
      double modulus = Math.sqrt(re * re + im * im);
      double limit = modulus > MOST ? MOST / modulus : 1;
      factor.times(k, re * limit, im * limit);
    }
  }
}
