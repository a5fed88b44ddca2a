package org.slabnote.api;

import org.slabnote.api.quantity.Angle;
import org.slabnote.api.quantity.Length;

/**
 * Where each trace of a pass was taken: the antenna midpoint in the slab frame, trace by trace.
 *
 * @param x x of each trace, metres
 * @param y y of each trace, metres, as many
 * @since 0.1
 */
public record Track(Doubles x, Doubles y) {

  /**
   * Checks the sizes.
   *
   * @throws IllegalArgumentException if the sizes differ or are zero
   */
  public Track {
    if (x.size() != y.size() || x.size() == 0) {
      throw new IllegalArgumentException("track with " + x.size() + " x and " + y.size()
          + " y; expected as many of each, one or more");
    }
  }

  /** Returns {@code count} even steps from the first to the last trace; one trace lies at the start. */
  public static Track between(Point first, Point last, int count) {
    double[] x = new double[count];
    double[] y = new double[count];
    for (int i = 0; i < count; i++) {
      double f = count == 1 ? 0 : (double) i / (count - 1);
      x[i] = first.x().value() + (last.x().value() - first.x().value()) * f;
      y[i] = first.y().value() + (last.y().value() - first.y().value()) * f;
    }
    return new Track(Doubles.of(x), Doubles.of(y));
  }

  /** Returns the number of traces. */
  public int size() {
    return x.size();
  }

  /** Returns the place of trace {@code i}. */
  public Point at(int i) {
    return Point.of(x.get(i), y.get(i));
  }

  /** Returns the place of the first trace. */
  public Point first() {
    return at(0);
  }

  /** Returns the place of the last trace. */
  public Point last() {
    return at(size() - 1);
  }

  /** Returns the distance along the track from its start to each trace, metres, never falling. */
  public double[] distances() {
    double[] d = new double[size()];
    for (int i = 1; i < d.length; i++) {
      d[i] = d[i - 1] + StrictMath.hypot(x.get(i) - x.get(i - 1), y.get(i) - y.get(i - 1));
    }
    return d;
  }

  /** Returns the length along the track. */
  public Length length() {
    double[] d = distances();
    return new Length(d[d.length - 1]);
  }

  /** Returns the place at a distance along the track; beyond an end, the end. */
  public Point along(Length distance) {
    double[] d = distances();
    double at = distance.value();
    for (int i = 1; i < d.length; i++) {
      if (at <= d[i]) {
        double f = d[i] == d[i - 1] ? 0 : Math.max(0, (at - d[i - 1]) / (d[i] - d[i - 1]));
        return Point.of(
            x.get(i - 1) + f * (x.get(i) - x.get(i - 1)),
            y.get(i - 1) + f * (y.get(i) - y.get(i - 1)));
      }
    }
    return last();
  }

  /** Returns the direction from the first to the last trace, from +x towards +y; 0 for a single place. */
  public Angle direction() {
    double dx = x.get(size() - 1) - x.get(0);
    double dy = y.get(size() - 1) - y.get(0);
    return new Angle(StrictMath.atan2(dy, dx) * 180 / StrictMath.PI);
  }
}
