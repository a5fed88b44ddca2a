package org.slabnote.forward;

import org.slabnote.api.Point;
import org.slabnote.api.quantity.Length;

/**
 * A node of a cylinder's run.
 *
 * @param place place on plan
 * @param depth depth from the scanned face to the top of the cylinder
 * @since 0.1
 */
public record Node(Point place, Length depth) {
  /** Returns the node at {@code x}, {@code y}, {@code depth} metres. */
  public static Node of(double x, double y, double depth) {
    return new Node(Point.of(x, y), new Length(depth));
  }
}
