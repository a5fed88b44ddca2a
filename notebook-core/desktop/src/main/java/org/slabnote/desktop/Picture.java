package org.slabnote.desktop;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.slabnote.api.Event;
import org.slabnote.api.Events;
import org.slabnote.api.Pick;
import org.slabnote.api.Picks;
import org.slabnote.api.Scan;
import org.slabnote.api.Section;
import org.slabnote.api.VelocityEstimate;
import org.slabnote.report.Radargram;

/**
 * A radargram or section with all that is drawn on it.
 *
 * @param address of the step
 * @param pass name of the pass
 * @param channel label of the channel
 * @param image the grey picture
 * @param surface time on the scan's own axis at which the wave leaves the surface, ns; 0 where unknown
 * @param surfaceKnown whether that time was determined
 * @param separation of the antennas, metres
 * @param velocity for the depth axis
 * @param events seen on this scan, with their states
 * @param picks drawn over it by the notebook, beside those in its text
 * @param treatment what was done to it, in words
 */
record Picture(
    String address,
    String pass,
    String channel,
    Radargram image,
    double surface,
    boolean surfaceKnown,
    double separation,
    Optional<VelocityEstimate> velocity,
    List<Event> events,
    List<Pick> picks,
    String treatment) {

  Picture {
    events = List.copyOf(events);
    picks = List.copyOf(picks);
  }

  /** The picture of a step; empty where its value is gone or is none that can be drawn so. */
  static Optional<Picture> of(Results results, Results.Shown shown) {
    Object value = results.values().apply(shown.address()).orElse(null);
    if (value instanceof Scan scan) {
      List<String> done = scan.history().stream().map(Object::toString).toList();
      return Optional.of(new Picture(
          shown.address(),
          scan.pass(),
          scan.channel(),
          Radargram.of(scan),
          scan.surface().map(s -> s.value().value()).orElse(0.0),
          scan.surface().isPresent(),
          scan.antenna().separation().value(),
          results.velocity(),
          events(results, shown, scan.pass(), scan.channel()),
          picks(results, shown, scan.pass()),
          done.isEmpty() ? "as recorded" : String.join("; ", done)));
    }
    if (value instanceof Section section) {
      return Optional.of(new Picture(
          shown.address(),
          section.pass(),
          section.channel(),
          Radargram.of(section),
          0,
          true,
          0,
          results.velocity(),
          events(results, shown, section.pass(), section.channel()),
          List.of(),
          section.meaning()));
    }
    return Optional.empty();
  }

  /** Events of the scan: those drawn over it and those of the ledger, which knows their states. */
  private static List<Event> events(
      Results results, Results.Shown shown, String pass, String channel) {
    List<Event> all = new ArrayList<>(results.ledger().map(Events::list).orElse(List.of()));
    for (String over : shown.over()) {
      if (results.values().apply(over).orElse(null) instanceof Events events) {
        for (Event event : events.list()) {
          if (all.stream().noneMatch(known -> known.name().equals(event.name()))) {
            all.add(event);
          }
        }
      }
    }
    all.removeIf(e -> !e.pass().equals(pass) || !e.channel().equals(channel));
    return all;
  }

  private static List<Pick> picks(Results results, Results.Shown shown, String pass) {
    List<Pick> picks = new ArrayList<>();
    for (String over : shown.over()) {
      if (results.values().apply(over).orElse(null) instanceof Picks some) {
        picks.addAll(some.on(pass).list());
      }
    }
    return picks;
  }

  /** Whether picks can be set: on scans, whose rows are times. */
  boolean pickable() {
    return !image.depth();
  }

  /** Depth in metres of a plane that shows at a time after the surface; empty above the surface. */
  Optional<Double> depth(double time) {
    if (velocity.isEmpty() || !surfaceKnown || image.depth()) {
      return Optional.empty();
    }
    double path = velocity.get().velocity().value().value() * time;
    return path < separation || time < 0
        ? Optional.empty()
        : Optional.of(Math.sqrt(path * path - separation * separation) / 2);
  }
}
