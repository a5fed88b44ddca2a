package org.slabnote.api;

import org.slabnote.api.quantity.Length;

/**
 * A place on the scanned face, in the slab frame.
 *
 * @param x to the right when facing the face
 * @param y down the view
 * @since 0.1
 */
public record Point(Length x, Length y) {

  /** Returns the place at {@code x}, {@code y} metres. */
  public static Point of(double x, double y) {
    return new Point(new Length(x), new Length(y));
  }

  /** Returns the distance to another place. */
  public Length to(Point other) {
    return new Length(StrictMath.hypot(x.value() - other.x.value(), y.value() - other.y.value()));
  }
}
