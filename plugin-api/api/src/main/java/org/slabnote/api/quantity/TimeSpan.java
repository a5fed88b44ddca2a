package org.slabnote.api.quantity;

/**
 * A span of time in nanoseconds; two-way where a travel time is meant.
 *
 * @param value nanoseconds, finite
 * @since 0.1
 */
public record TimeSpan(double value) implements Quantity<TimeSpan> {

  /**
   * Checks the number.
   *
   * @throws IllegalArgumentException if {@code value} is not finite
   */
  public TimeSpan {
    value = Units.finite(value, "ns");
  }

  @Override
  public String unit() {
    return "ns";
  }

  @Override
  public double si() {
    return value / 1e9;
  }

  @Override
  public TimeSpan of(double value) {
    return new TimeSpan(value);
  }

  /** Returns the length covered in this time at {@code velocity}. */
  public Length times(Velocity velocity) {
    return new Length(value * velocity.value());
  }

  @Override
  public String toString() {
    return Units.format(this);
  }
}
