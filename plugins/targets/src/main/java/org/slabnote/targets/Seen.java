package org.slabnote.targets;

import java.util.List;
import org.slabnote.api.Visibility;

/**
 * How far down the ground around a cut was seen.
 *
 * @param reach least reach over the ground asked for, m; 0 where a part of it was not seen
 * @param smallest smallest metal bar detectable at that reach, m
 */
record Seen(double reach, double smallest) {
  private static final int SPOKES = 24;

  /** Passes on a grid of exactly two half-widths meet. */
  private static final double ROUNDING = 1e-6;

  /** Looks at the cut's ground and {@code around} m beside it. */
  static Seen of(CutSolid cut, double around, Visibility seen) {
    Seen worst = new Seen(Double.POSITIVE_INFINITY, 0);
    double radius = cut.radius() + around;
    int rings = 1 + (int) Math.ceil(radius / 0.02);
    double length = StrictMath.hypot(cut.x1() - cut.x0(), cut.y1() - cut.y0());
    int steps = (int) Math.ceil(length / 0.02);
    for (int i = 0; i <= steps; i++) {
      double f = steps == 0 ? 0 : (double) i / steps;
      double x = cut.x0() + f * (cut.x1() - cut.x0());
      double y = cut.y0() + f * (cut.y1() - cut.y0());
      for (int r = 0; r <= rings; r++) {
        for (int k = 0; k < (r == 0 ? 1 : SPOKES); k++) {
          double angle = 2 * StrictMath.PI * k / SPOKES;
          double d = radius * r / rings;
          Seen here =
              at(x + d * StrictMath.cos(angle), y + d * StrictMath.sin(angle), seen.sights());
          if (here.reach < worst.reach) {
            worst = here;
          }
        }
      }
    }
    return worst;
  }

  private static Seen at(double x, double y, List<Visibility.Sight> sights) {
    Seen best = new Seen(0, 0);
    for (Visibility.Sight s : sights) {
      if (distance(s, x, y) <= s.halfWidth().value() + ROUNDING && s.reach().value() > best.reach) {
        best = new Seen(s.reach().value(), s.smallest().value());
      }
    }
    return best;
  }

  /** Distance in plan from a pass, m. */
  static double distance(Visibility.Sight s, double x, double y) {
    CutSolid line = new CutSolid(
        s.start().x().value(),
        s.start().y().value(),
        s.end().x().value(),
        s.end().y().value(),
        0,
        1);
    return line.plan(x, y);
  }
}
