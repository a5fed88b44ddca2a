package org.slabnote.api.quantity;

/**
 * A frequency in megahertz.
 *
 * @param value megahertz, finite
 * @since 0.1
 */
public record Frequency(double value) implements Quantity<Frequency> {

  /**
   * Checks the number.
   *
   * @throws IllegalArgumentException if {@code value} is not finite
   */
  public Frequency {
    value = Units.finite(value, "MHz");
  }

  @Override
  public String unit() {
    return "MHz";
  }

  @Override
  public double si() {
    return value * 1e6;
  }

  @Override
  public Frequency of(double value) {
    return new Frequency(value);
  }

  /** Returns the number in gigahertz, cycles per nanosecond. */
  public double inGigahertz() {
    return value / 1000;
  }

  /** Returns one period. */
  public TimeSpan period() {
    return new TimeSpan(1000 / value);
  }

  @Override
  public String toString() {
    return Units.format(this);
  }
}
