package org.slabnote.demo;

import java.util.Map;

/**
 * A straight piece of a plan, metres; both ends alike for a point.
 *
 * @param x1 x of one end
 * @param y1 y of one end
 * @param x2 x of the other end
 * @param y2 y of the other end
 */
record Segment(double x1, double y1, double x2, double y2) {
  /** Reads columns {@code x_m,y_m,x2_m,y2_m}; empty second ones for a point. */
  static Segment of(Map<String, String> row) {
    double x = Double.parseDouble(row.get("x_m"));
    double y = Double.parseDouble(row.get("y_m"));
    boolean point = row.get("x2_m").isEmpty();
    return new Segment(
        x,
        y,
        point ? x : Double.parseDouble(row.get("x2_m")),
        point ? y : Double.parseDouble(row.get("y2_m")));
  }

  double length() {
    return Math.hypot(x2 - x1, y2 - y1);
  }

  boolean isPoint() {
    return length() == 0;
  }

  /** Distance of a place from the endless straight line through this piece. */
  double distance(double x, double y) {
    return Math.abs((x - x1) * (y2 - y1) - (y - y1) * (x2 - x1)) / length();
  }

  /** Distance of the middle of another piece from the endless straight line through this one. */
  double distance(Segment other) {
    return distance((other.x1 + other.x2) / 2, (other.y1 + other.y2) / 2);
  }

  /** Angle between two pieces, 0 to 90 degrees. */
  double angle(Segment other) {
    double cross = (x2 - x1) * (other.y2 - other.y1) - (y2 - y1) * (other.x2 - other.x1);
    double dot = (x2 - x1) * (other.x2 - other.x1) + (y2 - y1) * (other.y2 - other.y1);
    return Math.toDegrees(Math.atan2(Math.abs(cross), Math.abs(dot)));
  }

  /** Where along this piece a place lies: 0 at one end, 1 at the other. */
  double along(double x, double y) {
    return ((x - x1) * (x2 - x1) + (y - y1) * (y2 - y1)) / (length() * length());
  }
}
