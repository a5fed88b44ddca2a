package org.slabnote.api.quantity;

/**
 * A dimensionless number that carries an uncertainty, a permittivity say.
 *
 * @param value a pure number, finite
 * @since 0.1
 */
public record Ratio(double value) implements Quantity<Ratio> {

  /**
   * Checks the number.
   *
   * @throws IllegalArgumentException if {@code value} is not finite
   */
  public Ratio {
    value = Units.finite(value, "1");
  }

  @Override
  public String unit() {
    return "1";
  }

  @Override
  public double si() {
    return value;
  }

  @Override
  public Ratio of(double value) {
    return new Ratio(value);
  }

  @Override
  public String toString() {
    return Units.format(this);
  }
}
