package org.slabnote.targets;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.slabnote.api.Event;

/**
 * What one pass shows at one place and depth: an event of one orientation, or of both.
 *
 * @param pass position of the pass in the order of the passes
 * @param best the event that place and depth are taken from: across before along, whose envelope is
 *     delayed more
 * @param events all of them, {@code best} first
 */
record Sighting(int pass, Event best, List<Event> events) {
  /** Apart along the pass, m, up to which two orientations' events may be one target's. */
  private static final double SAME_PLACE = 0.025;

  double x() {
    return best.place().x().value();
  }

  double y() {
    return best.place().y().value();
  }

  double depth() {
    return best.depth().value().value();
  }

  double distance() {
    return best.distance().value().value();
  }

  /** Half the depth within which another sighting may be of the same target: 2 u, 6 to 15 mm. */
  double depthGate() {
    return Math.max(0.006, Math.min(0.015, best.depth().u95().value()));
  }

  /**
   * Joins the events of one pass: each along event goes to the nearest across event within 25 mm of
   * place and the depth gate, else stands alone.
   */
  static List<Sighting> join(int pass, List<Event> across, List<Event> along) {
    List<List<Event>> groups = new ArrayList<>();
    for (Event e : across) {
      groups.add(new ArrayList<>(List.of(e)));
    }
    int direct = groups.size();
    for (Event e : along) {
      int nearest = -1;
      double least = Double.POSITIVE_INFINITY;
      for (int g = 0; g < direct; g++) {
        Event a = groups.get(g).get(0);
        double dx = Math.abs(a.distance().value().value() - e.distance().value().value());
        double dz = Math.abs(a.depth().value().value() - e.depth().value().value());
        double gate =
            Math.max(0.008, Math.max(a.depth().u95().value(), e.depth().u95().value()));
        if (dx < SAME_PLACE && dz < gate && dx / SAME_PLACE + dz / gate < least) {
          nearest = g;
          least = dx / SAME_PLACE + dz / gate;
        }
      }
      if (nearest >= 0) {
        groups.get(nearest).add(e);
      } else {
        groups.add(new ArrayList<>(List.of(e)));
      }
    }
    List<Sighting> list = new ArrayList<>();
    for (List<Event> g : groups) {
      list.add(new Sighting(pass, g.get(0), List.copyOf(g)));
    }
    list.sort(Comparator.comparingDouble(Sighting::distance).thenComparingDouble(Sighting::depth));
    return list;
  }
}
