package org.slabnote.api.quantity;

/**
 * A length in metres.
 *
 * @param value metres, finite
 * @since 0.1
 */
public record Length(double value) implements Quantity<Length> {

  /**
   * Checks the number.
   *
   * @throws IllegalArgumentException if {@code value} is not finite
   */
  public Length {
    value = Units.finite(value, "m");
  }

  @Override
  public String unit() {
    return "m";
  }

  @Override
  public double si() {
    return value;
  }

  @Override
  public Length of(double value) {
    return new Length(value);
  }

  /** Returns the velocity that covers this length in {@code time}. */
  public Velocity over(TimeSpan time) {
    return new Velocity(value / time.value());
  }

  /** Returns the time this length takes at {@code velocity}. */
  public TimeSpan over(Velocity velocity) {
    return new TimeSpan(value / velocity.value());
  }

  /** Returns the number in millimetres. */
  public double inMillimetres() {
    return value * 1000;
  }

  @Override
  public String toString() {
    return Units.format(this);
  }
}
