package org.slabnote.api.quantity;

/**
 * A level or a ratio of amplitudes in decibels: 20 log10 of the amplitude ratio.
 *
 * @param value decibels, finite
 * @since 0.1
 */
public record Decibel(double value) implements Quantity<Decibel> {

  /**
   * Checks the number.
   *
   * @throws IllegalArgumentException if {@code value} is not finite
   */
  public Decibel {
    value = Units.finite(value, "dB");
  }

  @Override
  public String unit() {
    return "dB";
  }

  @Override
  public double si() {
    return value;
  }

  @Override
  public Decibel of(double value) {
    return new Decibel(value);
  }

  /** Returns the level of an amplitude ratio above zero. */
  public static Decibel ofAmplitude(double ratio) {
    return new Decibel(20 * StrictMath.log10(ratio));
  }

  /** Returns the amplitude ratio {@code 10^(dB / 20)}. */
  public double amplitude() {
    return StrictMath.pow(10, value / 20);
  }

  @Override
  public String toString() {
    return Units.format(this);
  }
}
