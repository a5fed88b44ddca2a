package org.slabnote.targets;

import java.util.List;
import org.slabnote.api.Event;

/**
 * Where a pass ran, as far as its events tell: the straight line through their places.
 *
 * @param name name of the pass
 * @param x a place on it, m
 * @param y the same
 * @param dx direction, a unit vector; (0, 0) where events at one place only leave it unknown
 * @param dy the same
 * @param from least coordinate of an event along the direction from (x, y), m
 * @param to greatest
 */
record PassLine(String name, double x, double y, double dx, double dy, double from, double to) {
  private static final double LEAST_SPREAD = 0.05;

  static PassLine of(String name, List<Event> events) {
    Event first = events.get(0);
    Event last = first;
    for (Event e : events) {
      first = at(e) < at(first) ? e : first;
      last = at(e) > at(last) ? e : last;
    }
    double x = first.place().x().value();
    double y = first.place().y().value();
    double dx = last.place().x().value() - x;
    double dy = last.place().y().value() - y;
    double length = StrictMath.hypot(dx, dy);
    return length < LEAST_SPREAD
        ? new PassLine(name, x, y, 0, 0, 0, 0)
        : new PassLine(name, x, y, dx / length, dy / length, 0, length);
  }

  private static double at(Event e) {
    return e.distance().value().value();
  }

  boolean known() {
    return dx != 0 || dy != 0;
  }

  /** Sine of the angle between this pass and a direction; 1 where the pass's direction is unknown. */
  double sine(double ux, double uy) {
    return known() ? Math.abs(dx * uy - dy * ux) : 1;
  }

  /** Coordinate along a line (point, unit direction) at which this pass crosses it; NaN if parallel. */
  double crossing(double px, double py, double ux, double uy) {
    double det = dx * uy - dy * ux;
    if (!known() || Math.abs(det) < 0.2) {
      return Double.NaN;
    }
    return (dx * (y - py) - dy * (x - px)) / det;
  }

  /** Coordinate along this pass at which a line crosses it. */
  double own(double px, double py, double ux, double uy) {
    double det = dx * uy - dy * ux;
    return ((px - x) * uy - (py - y) * ux) / det;
  }

  /** Whether the line crosses between the outermost events, or up to a margin beyond. */
  boolean covers(double px, double py, double ux, double uy, double margin) {
    double at = own(px, py, ux, uy);
    return at >= from - margin && at <= to + margin;
  }
}
