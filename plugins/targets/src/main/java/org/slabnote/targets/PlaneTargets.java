package org.slabnote.targets;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.TreeMap;
import org.slabnote.api.Event;
import org.slabnote.api.Point;
import org.slabnote.api.Target;
import org.slabnote.api.TargetClass;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Length;
import org.slabnote.api.quantity.Measured;

/**
 * Joins plane events of like depth to planes.
 *
 * <p>A plane must show on at least half of the passes that plane events were looked for on: a bar along
 * one pass is flat there too, but not on the next. A plane at the sum of two stronger ones' depths is
 * their multiple. Events belong together within twice their own
 * uncertainty of depth, 8 mm at least, of the running median.
 */
final class PlaneTargets {
  private PlaneTargets() {}

  static List<Target> of(List<Event> events, int scans, Work work) {
    List<Event> left = new ArrayList<>(events);
    left.sort(Comparator.<Event>comparingDouble(e -> -e.amplitude()).thenComparing(Event::name));
    List<Target> planes = new ArrayList<>();
    List<Event> strongest = new ArrayList<>();
    while (!left.isEmpty()) {
      List<Event> group = group(left);
      left.removeAll(group);
      long passes = group.stream().map(Event::pass).distinct().count();
      if (2 * passes >= scans && !isMultiple(group.get(0), strongest)) {
        strongest.add(group.get(0));
        planes.add(target(group, scans, work));
      }
    }
    planes.sort(Comparator.comparing((Target t) -> t.depth().value()));
    return planes;
  }

  /** At the sum of the depths of two stronger planes, or twice one's: thrown back by the surface. */
  private static boolean isMultiple(Event e, List<Event> stronger) {
    for (Event a : stronger) {
      for (Event b : stronger) {
        double predicted = a.depth().value().value() + b.depth().value().value();
        double off = Math.abs(e.depth().value().value() - predicted);
        if (off < 0.005 + Multiples.tolerance(e) && e.amplitude() < 0.7 * a.amplitude()) {
          return true;
        }
      }
    }
    return false;
  }

  private static List<Event> group(List<Event> left) {
    Event first = left.get(0);
    double gate = Math.max(0.008, first.depth().u95().value());
    List<Event> group = new ArrayList<>();
    for (Event e : left) {
      if (e.depth().value().minus(first.depth().value()).abs().value() <= gate) {
        group.add(e);
      }
    }
    return group;
  }

  private static Target target(List<Event> group, int scans, Work work) {
    double depth = 0;
    double x = 0;
    double y = 0;
    for (Event e : group) {
      depth += e.depth().value().value() / group.size();
      x += e.place().x().value() / group.size();
      y += e.place().y().value() / group.size();
    }
    double square = 0;
    for (Event e : group) {
      square += (e.depth().value().value() - depth) * (e.depth().value().value() - depth);
    }
    double spread = Math.sqrt(square / group.size());
    List<String> names = group.stream().map(Event::name).sorted().toList();
    Length z = new Length(depth);
    return new Target(
        "plane",
        Point.of(x, y),
        Optional.empty(),
        MeanDepth.of(depth, group, spread, work),
        List.of(z, z),
        Measured.exact(new Length(0)),
        Target.Reference.TOP,
        Measured.exact(new Length(0)),
        Optional.empty(),
        Optional.empty(),
        new TreeMap<>(java.util.Map.of(TargetClass.PLANE, 1.0)),
        group.size() >= 3 || scans == 1 ? Target.Status.PROBABLE : Target.Status.POSSIBLE,
        "base of the slab, or a layer within it or beneath; seen on " + group.size() + " of "
            + scans + " scans",
        names);
  }
}
