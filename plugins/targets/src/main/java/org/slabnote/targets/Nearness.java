package org.slabnote.targets;

import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import org.apache.commons.math3.special.Erf;
import org.slabnote.api.Cut;
import org.slabnote.api.Target;
import org.slabnote.api.TargetClass;
import org.slabnote.api.Visibility;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Length;
import org.slabnote.api.quantity.Measured;

/**
 * How a cut stands to one target.
 *
 * @param target the target
 * @param distance signed distance from the cut to the target's surface, with its budget
 * @param required required clearance
 * @param onward the same distance if the target runs on beyond the passes that saw it, m
 */
record Nearness(Target target, Measured<Length> distance, double required, double onward) {
  /** Standard uncertainty of carrying a mark from the plan to the slab, m (common practice, no source). */
  private static final double MARK_U = 0.005;

  /** A class is excluded below this probability. */
  private static final double EXCLUDED = 0.05;

  private static final double ONWARD = 0.3;
  private static final double SHIFT = 1e-4;

  static Nearness of(Cut cut, Target t, Visibility seen, Work work) {
    CutSolid solid = CutSolid.of(cut);
    Body body = Body.of(t);
    double d = solid.distance(body);
    double[] side = sideways(body);
    double perSide =
        (solid.distance(moved(body, side, 0)) - solid.distance(moved(body, back(side), 0)))
            / (2 * SHIFT);
    double perDepth = (solid.distance(moved(body, new double[2], SHIFT))
            - solid.distance(moved(body, new double[2], -SHIFT)))
        / (2 * SHIFT);
    if (t.end().isEmpty()) {
      perSide = Math.sqrt(Math.max(0, 1 - perDepth * perDepth));
    }
    double perDiameter = (t.reference() == Target.Reference.TOP ? perDepth / 2 : 0) - 0.5;
    Measured<Length> distance = Measured.about(new Length(d))
        .from(t.across(), perSide)
        .from(t.depth(), perDepth)
        .from(t.diameter(), perDiameter)
        .from(work.source("mark transfer"), MARK_U * Math.abs(perSide))
        .build();
    return new Nearness(t, distance, required(cut, t), solid.distance(onward(body, t, seen)));
  }

  private static double[] sideways(Body b) {
    double dx = b.x1() - b.x0();
    double dy = b.y1() - b.y0();
    double length = StrictMath.hypot(dx, dy);
    return length == 0
        ? new double[] {SHIFT, 0}
        : new double[] {-dy / length * SHIFT, dx / length * SHIFT};
  }

  private static double[] back(double[] v) {
    return new double[] {-v[0], -v[1]};
  }

  private static Body moved(Body b, double[] by, double down) {
    return new Body(
        b.x0() + by[0],
        b.y0() + by[1],
        b.z0() + down,
        b.x1() + by[0],
        b.y1() + by[1],
        b.z1() + down,
        b.radius());
  }

  /** The body 0.3 m longer at both ends; a point becomes a line square to the pass next to it. */
  private static Body onward(Body b, Target t, Visibility seen) {
    double dx = b.x1() - b.x0();
    double dy = b.y1() - b.y0();
    double length = StrictMath.hypot(dx, dy);
    if (length == 0) {
      double[] square = square(t, seen);
      return new Body(
          b.x0() - square[0] * ONWARD,
          b.y0() - square[1] * ONWARD,
          b.z0(),
          b.x0() + square[0] * ONWARD,
          b.y0() + square[1] * ONWARD,
          b.z1(),
          b.radius());
    }
    double ux = dx / length * ONWARD;
    double uy = dy / length * ONWARD;
    double slope = (b.z1() - b.z0()) / length * ONWARD;
    return new Body(
        b.x0() - ux,
        b.y0() - uy,
        b.z0() - slope,
        b.x1() + ux,
        b.y1() + uy,
        b.z1() + slope,
        b.radius());
  }

  private static double[] square(Target t, Visibility seen) {
    double least = Double.POSITIVE_INFINITY;
    double[] direction = {0, 0};
    for (Visibility.Sight s : seen.sights()) {
      double d = Seen.distance(s, t.start().x().value(), t.start().y().value());
      double dx = s.end().x().value() - s.start().x().value();
      double dy = s.end().y().value() - s.start().y().value();
      double length = StrictMath.hypot(dx, dy);
      if (d < least && length > 0) {
        least = d;
        direction = new double[] {-dy / length, dx / length};
      }
    }
    return direction;
  }

  /** The greatest required clearance of the classes that are not excluded; 0 where none is set. */
  static double required(Cut cut, Target t) {
    double most = 0;
    SortedMap<TargetClass, Double> classes = t.classes();
    for (Map.Entry<TargetClass, Length> e : cut.required().entrySet()) {
      boolean open = classes.isEmpty() || classes.getOrDefault(e.getKey(), 0.0) >= EXCLUDED;
      if (open && e.getKey() != TargetClass.PLANE) {
        most = Math.max(most, e.getValue().value());
      }
    }
    return most;
  }

  double margin() {
    return distance.value().value() - required;
  }

  /** Probability that the true distance is below a value: normal model (JCGM 106:2012, 7). */
  double probabilityBelow(double value) {
    double u = distance.u().value();
    double d = distance.value().value() - value;
    if (u == 0) {
      return d < 0 ? 1 : 0;
    }
    return 0.5 * Erf.erfc(d / u / Math.sqrt(2));
  }

  /** Whether it would be nearer than required, or not surely farther, if it ran on. */
  boolean onwardMatters() {
    return onward < required + distance.u95().value();
  }

  static boolean isPlane(Target t) {
    return t.classes().getOrDefault(TargetClass.PLANE, 0.0) >= 0.5;
  }

  static List<Target> planes(List<Target> all) {
    return all.stream().filter(Nearness::isPlane).toList();
  }
}
