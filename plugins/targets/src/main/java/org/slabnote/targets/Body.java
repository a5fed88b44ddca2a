package org.slabnote.targets;

import org.slabnote.api.Point;
import org.slabnote.api.Target;

/**
 * A target as a solid: a straight cylinder with round ends.
 *
 * @param x0 one end of the axis, m
 * @param y0 the same
 * @param z0 depth of the axis there, m
 * @param x1 the other end; the same place for a point
 * @param y1 the same
 * @param z1 depth of the axis there
 * @param radius half the outside diameter, m
 */
record Body(double x0, double y0, double z0, double x1, double y1, double z1, double radius) {

  static Body of(Target t) {
    double radius = t.diameter().value().value() / 2;
    double toAxis = t.reference() == Target.Reference.TOP ? radius : 0;
    Point a = t.start();
    Point b = t.end().orElse(a);
    double za = t.depth().value().value();
    double zb = za;
    if (t.endDepths().size() == 2) {
      za = t.endDepths().get(0).value();
      zb = t.endDepths().get(1).value();
    }
    return new Body(
        a.x().value(),
        a.y().value(),
        za + toAxis,
        b.x().value(),
        b.y().value(),
        zb + toAxis,
        radius);
  }

  /** Share of the way along the axis nearest to a place in plan, 0 to 1. */
  double share(double px, double py) {
    double dx = x1 - x0;
    double dy = y1 - y0;
    double square = dx * dx + dy * dy;
    double f = square == 0 ? 0 : ((px - x0) * dx + (py - y0) * dy) / square;
    return Math.max(0, Math.min(1, f));
  }

  double planDistance(Point p) {
    double f = share(p.x().value(), p.y().value());
    return StrictMath.hypot(p.x().value() - x0 - f * (x1 - x0), p.y().value() - y0 - f * (y1 - y0));
  }

  double topAt(Point p) {
    return z0 + share(p.x().value(), p.y().value()) * (z1 - z0) - radius;
  }
}
