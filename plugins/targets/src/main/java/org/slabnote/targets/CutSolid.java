package org.slabnote.targets;

import org.slabnote.api.Cut;
import org.slabnote.api.Point;

/**
 * The ground that a cut takes: an upright slot from the scanned face, round at its ends; a core is a
 * slot without length.
 *
 * @param x0 one end in plan, m
 * @param y0 the same
 * @param x1 the other end
 * @param y1 the same
 * @param radius half the diameter or width, m
 * @param depth depth, m
 */
record CutSolid(double x0, double y0, double x1, double y1, double radius, double depth) {
  private static final int SEARCH = 60;

  static CutSolid of(Cut cut) {
    return new CutSolid(
        cut.start().x().value(),
        cut.start().y().value(),
        cut.end().x().value(),
        cut.end().y().value(),
        cut.diameter().value() / 2,
        cut.depth().value());
  }

  /** Distance in plan from the cut's centre line, m. */
  double plan(double x, double y) {
    double dx = x1 - x0;
    double dy = y1 - y0;
    double square = dx * dx + dy * dy;
    double f = square == 0 ? 0 : ((x - x0) * dx + (y - y0) * dy) / square;
    f = Math.max(0, Math.min(1, f));
    return StrictMath.hypot(x - x0 - f * dx, y - y0 - f * dy);
  }

  /**
   * Signed distance from a point to the cut, m: negative within it. Beside it the distance in plan,
   * below it the distance down, below its rim both.
   */
  double distance(double x, double y, double z) {
    double side = plan(x, y) - radius;
    double below = z - depth;
    double outside = StrictMath.hypot(Math.max(0, side), Math.max(0, below));
    return outside + Math.min(0, Math.max(side, below));
  }

  /**
   * Signed distance from the cut to a body, m: of the body's axis less its radius. The distance is
   * convex along the axis, so halving thirds finds its least to 1e-10 of the axis.
   */
  double distance(Body b) {
    double low = 0;
    double high = 1;
    for (int i = 0; i < SEARCH; i++) {
      double a = low + (high - low) / 3;
      double c = high - (high - low) / 3;
      if (at(b, a) <= at(b, c)) {
        high = c;
      } else {
        low = a;
      }
    }
    return at(b, (low + high) / 2) - b.radius();
  }

  private double at(Body b, double f) {
    return distance(
        b.x0() + f * (b.x1() - b.x0()),
        b.y0() + f * (b.y1() - b.y0()),
        b.z0() + f * (b.z1() - b.z0()));
  }

  double distance(Point p, double z) {
    return distance(p.x().value(), p.y().value(), z);
  }
}
