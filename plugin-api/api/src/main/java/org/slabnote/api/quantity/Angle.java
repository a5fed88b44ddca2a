package org.slabnote.api.quantity;

/**
 * An angle in degrees.
 *
 * @param value degrees, finite
 * @since 0.1
 */
public record Angle(double value) implements Quantity<Angle> {

  /**
   * Checks the number.
   *
   * @throws IllegalArgumentException if {@code value} is not finite
   */
  public Angle {
    value = Units.finite(value, "deg");
  }

  @Override
  public String unit() {
    return "deg";
  }

  @Override
  public double si() {
    return value * StrictMath.PI / 180;
  }

  @Override
  public Angle of(double value) {
    return new Angle(value);
  }

  /** Returns the sine. */
  public double sin() {
    return StrictMath.sin(si());
  }

  /** Returns the cosine. */
  public double cos() {
    return StrictMath.cos(si());
  }

  /** Returns the angle modulo 180 degrees, 0 up to but not including 180: an axis has no head. */
  public Angle modulo180() {
    double r = value % 180;
    double positive = r < 0 ? r + 180 : r;
    return new Angle(positive >= 180 ? 0 : positive + 0.0);
  }

  @Override
  public String toString() {
    return Units.format(this);
  }
}
