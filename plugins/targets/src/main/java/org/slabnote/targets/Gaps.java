package org.slabnote.targets;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.slabnote.api.Point;
import org.slabnote.api.Target;
import org.slabnote.api.Visibility.Sight;
import org.slabnote.api.Visibility.Unseen;
import org.slabnote.api.quantity.Length;
import org.slabnote.api.quantity.Units;

/** Ground that no pass, or no pass of a direction, could see. */
final class Gaps {
  private Gaps() {}

  /** Strips between parallel neighbouring passes that their half-widths do not fill. */
  static List<Unseen> of(List<Sight> sights) {
    List<Unseen> list = new ArrayList<>();
    for (boolean alongX : new boolean[] {true, false}) {
      List<Sight> parallel = new ArrayList<>();
      for (Sight s : sights) {
        double dx = Math.abs(s.end().x().value() - s.start().x().value());
        double dy = Math.abs(s.end().y().value() - s.start().y().value());
        if (alongX ? dx > 3 * dy : dy > 3 * dx) {
          parallel.add(s);
        }
      }
      parallel.sort(Comparator.comparingDouble((Sight s) -> at(s, alongX)));
      for (int i = 1; i < parallel.size(); i++) {
        Sight a = parallel.get(i - 1);
        Sight b = parallel.get(i);
        double from = at(a, alongX) + a.halfWidth().value();
        double to = at(b, alongX) - b.halfWidth().value();
        if (to - from > 1e-6) {
          list.add(strip(a, b, from, to, alongX));
        }
      }
    }
    return list;
  }

  private static double at(Sight s, boolean alongX) {
    return alongX
        ? (s.start().y().value() + s.end().y().value()) / 2
        : (s.start().x().value() + s.end().x().value()) / 2;
  }

  private static Unseen strip(Sight a, Sight b, double from, double to, boolean alongX) {
    double low = Math.min(least(a, alongX), least(b, alongX));
    double high = Math.max(most(a, alongX), most(b, alongX));
    return new Unseen(
        alongX ? Point.of(low, from) : Point.of(from, low),
        alongX ? Point.of(high, to) : Point.of(to, high),
        new Length(0),
        "between passes " + a.pass() + " and " + b.pass()
            + ": a point there, or a line along the passes, was not crossed in this direction");
  }

  private static double least(Sight s, boolean alongX) {
    return alongX
        ? Math.min(s.start().x().value(), s.end().x().value())
        : Math.min(s.start().y().value(), s.end().y().value());
  }

  private static double most(Sight s, boolean alongX) {
    return alongX
        ? Math.max(s.start().x().value(), s.end().x().value())
        : Math.max(s.start().y().value(), s.end().y().value());
  }

  /** Ground under two near-parallel lines nearer to one another than half their depth. */
  static List<Unseen> under(List<Target> targets) {
    List<Unseen> list = new ArrayList<>();
    for (int i = 0; i < targets.size(); i++) {
      for (int k = i + 1; k < targets.size(); k++) {
        Target a = targets.get(i);
        Target b = targets.get(k);
        if (a.end().isEmpty() || b.end().isEmpty() || !parallel(a, b)) {
          continue;
        }
        Body body = Body.of(a);
        Point middle = Point.of(
            (b.start().x().value() + b.end().get().x().value()) / 2,
            (b.start().y().value() + b.end().get().y().value()) / 2);
        double apart = body.planDistance(middle);
        double depth = Math.max(a.depth().value().value(), b.depth().value().value());
        if (apart < depth / 2) {
          list.add(shadow(a, b, depth, apart));
        }
      }
    }
    return list;
  }

  private static boolean parallel(Target a, Target b) {
    double turn =
        Math.abs(a.strike().orElseThrow().value() - b.strike().orElseThrow().value()) % 180;
    return Math.min(turn, 180 - turn) < 15;
  }

  private static Unseen shadow(Target a, Target b, double depth, double apart) {
    Point p = a.start();
    Point q = a.end().orElse(p);
    Point r = b.start();
    Point s = b.end().orElse(r);
    double x0 = Math.min(
        Math.min(p.x().value(), q.x().value()), Math.min(r.x().value(), s.x().value()));
    double x1 = Math.max(
        Math.max(p.x().value(), q.x().value()), Math.max(r.x().value(), s.x().value()));
    double y0 = Math.min(
        Math.min(p.y().value(), q.y().value()), Math.min(r.y().value(), s.y().value()));
    double y1 = Math.max(
        Math.max(p.y().value(), q.y().value()), Math.max(r.y().value(), s.y().value()));
    return new Unseen(
        Point.of(x0, y0),
        Point.of(x1, y1),
        new Length(depth),
        "in the shadow of " + a.name() + " and " + b.name() + ", " + Units.fixed(apart * 1000, 0)
            + " mm apart");
  }
}
