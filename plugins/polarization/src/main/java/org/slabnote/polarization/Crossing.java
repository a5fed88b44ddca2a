package org.slabnote.polarization;

import java.util.Optional;
import org.slabnote.api.Point;
import org.slabnote.api.Target;
import org.slabnote.api.Track;

/**
 * Where a pass crosses a target.
 *
 * @param distance along the pass, m
 * @param place the same in the slab frame
 * @param sine sine of the angle between pass and target, 1 for a point
 * @param depth depth of the target there, m
 */
record Crossing(double distance, Point place, double sine, double depth) {

  /** A pass up to this far beside a point, or beyond the end of a line, crosses it, m. */
  private static final double NEAR = 0.06;

  static Optional<Crossing> of(Track track, Target target) {
    double ax = track.first().x().value();
    double ay = track.first().y().value();
    double dx = track.last().x().value() - ax;
    double dy = track.last().y().value() - ay;
    double length = StrictMath.hypot(dx, dy);
    if (length == 0) {
      return Optional.empty();
    }
    dx /= length;
    dy /= length;
    double px = target.start().x().value() - ax;
    double py = target.start().y().value() - ay;
    if (target.end().isEmpty()) {
      double along = px * dx + py * dy;
      double beside = Math.abs(px * dy - py * dx);
      return beside <= NEAR && along >= 0 && along <= length
          ? Optional.of(at(track, along, length, 1, target.depth().value().value()))
          : Optional.empty();
    }
    double tx = target.end().get().x().value() - target.start().x().value();
    double ty = target.end().get().y().value() - target.start().y().value();
    double extent = StrictMath.hypot(tx, ty);
    if (extent == 0) {
      return Optional.empty();
    }
    tx /= extent;
    ty /= extent;
    double sine = Math.abs(dx * ty - dy * tx);
    if (sine < 0.5) {
      return Optional.empty();
    }
    double cross = dx * ty - dy * tx;
    double along = (px * ty - py * tx) / cross;
    double onTarget = (px * dy - py * dx) / cross;
    if (along < 0 || along > length || onTarget < -NEAR || onTarget > extent + NEAR) {
      return Optional.empty();
    }
    return Optional.of(at(track, along, length, sine, depth(target, onTarget / extent)));
  }

  private static Crossing at(Track track, double along, double length, double sine, double depth) {
    // a bent track is a little longer than the way between its ends
    double place = along * track.length().value() / length;
    return new Crossing(
        place, track.along(new org.slabnote.api.quantity.Length(place)), sine, depth);
  }

  /** Depth at a share of the way: through start, middle and end. */
  static double depth(Target target, double share) {
    double middle = target.depth().value().value();
    if (target.endDepths().size() != 2) {
      return middle;
    }
    double a = target.endDepths().get(0).value();
    double b = target.endDepths().get(1).value();
    double s = Math.max(0, Math.min(1, share));
    return a * (1 - s) * (1 - 2 * s) + middle * 4 * s * (1 - s) + b * s * (2 * s - 1);
  }
}
