package org.slabnote.polarization;

import org.slabnote.api.Point;
import org.slabnote.api.Target;
import org.slabnote.api.TargetClass;

/** Whether a place on a target lies beneath another, shallower one. */
final class Overlap {
  /** Shallower by more than this counts as above, m: below, the two are one echo. */
  private static final double ABOVE = 0.015;

  private Overlap() {}

  /** Half the width of the shadow that a bar throws at a place: Fresnel-like, 40 mm at least. */
  static double half(double cover, double depth) {
    return Math.max(0.04, 0.35 * (depth - cover));
  }

  /** Whether {@code upper} lies above {@code place}, a place on a target at {@code depth}. */
  static boolean shadows(Target upper, Point place, double depth) {
    if (upper.classes().getOrDefault(TargetClass.PLANE, 0.0) > 0.5) {
      return false;
    }
    double[] way = distance(upper, place);
    double top = Crossing.depth(upper, way[1]);
    return top < depth - ABOVE && way[0] < half(top, depth);
  }

  /** Distance in plan from a place to a target, and the share of its length at the foot. */
  private static double[] distance(Target target, Point place) {
    double ax = target.start().x().value();
    double ay = target.start().y().value();
    double px = place.x().value() - ax;
    double py = place.y().value() - ay;
    if (target.end().isEmpty()) {
      return new double[] {StrictMath.hypot(px, py), 0.5};
    }
    double dx = target.end().get().x().value() - ax;
    double dy = target.end().get().y().value() - ay;
    double square = dx * dx + dy * dy;
    double share = square == 0 ? 0 : Math.max(0, Math.min(1, (px * dx + py * dy) / square));
    return new double[] {StrictMath.hypot(px - share * dx, py - share * dy), share};
  }
}
