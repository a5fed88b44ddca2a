package org.slabnote.api.quantity;

/**
 * A wave velocity in metres per nanosecond.
 *
 * @param value metres per nanosecond, finite
 * @since 0.1
 */
public record Velocity(double value) implements Quantity<Velocity> {

  /**
   * Checks the number.
   *
   * @throws IllegalArgumentException if {@code value} is not finite
   */
  public Velocity {
    value = Units.finite(value, "m/ns");
  }

  @Override
  public String unit() {
    return "m/ns";
  }

  @Override
  public double si() {
    return value * 1e9;
  }

  @Override
  public Velocity of(double value) {
    return new Velocity(value);
  }

  /** The velocity of light in vacuum, 0.299792458 m/ns exactly (SI definition). */
  public static final Velocity LIGHT = new Velocity(0.299792458);

  /** Returns the length covered in {@code time}. */
  public Length times(TimeSpan time) {
    return new Length(value * time.value());
  }

  /** Returns the relative permittivity {@code (c / v)^2} of a lossless medium, dimensionless. */
  public double permittivity() {
    double n = LIGHT.value / value;
    return n * n;
  }

  /** Returns the velocity in a lossless medium of relative permittivity {@code eps} above zero. */
  public static Velocity ofPermittivity(double eps) {
    return new Velocity(LIGHT.value / Math.sqrt(eps));
  }

  @Override
  public String toString() {
    return Units.format(this);
  }
}
