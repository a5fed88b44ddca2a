package org.slabnote.api.quantity;

/**
 * A number with a unit, as a type. Immutable and always finite.
 *
 * <p>The number is kept in the base unit of its kind, the one the trade writes: metres,
 * nanoseconds, megahertz, metres per nanosecond, degrees, decibels, one. Only like adds to like.
 *
 * @param <Q> the kind itself
 * @since 0.1
 */
public sealed interface Quantity<Q extends Quantity<Q>> extends Comparable<Q>
    permits Length, TimeSpan, Frequency, Velocity, Angle, Decibel, Ratio {

  /** Returns the number in the base unit, {@link #unit()}. */
  double value();

  /** Returns the base unit as its UCUM code: {@code m, ns, MHz, m/ns, deg, dB, 1}. */
  String unit();

  /** Returns the number in SI units (m, s, Hz, m/s, rad); decibels and ratios as they are. */
  double si();

  /**
   * Returns a quantity of this kind.
   *
   * @param value number in the base unit, finite
   * @throws IllegalArgumentException if {@code value} is not finite
   */
  Q of(double value);

  /** Returns the sum. */
  default Q plus(Q other) {
    return of(value() + other.value());
  }

  /** Returns the difference. */
  default Q minus(Q other) {
    return of(value() - other.value());
  }

  /** Returns this quantity {@code factor} times. */
  default Q times(double factor) {
    return of(value() * factor);
  }

  /** Returns the ratio of two quantities of one kind, dimensionless; infinite or NaN over zero. */
  default double over(Q other) {
    return value() / other.value();
  }

  /** Returns the magnitude. */
  default Q abs() {
    return of(Math.abs(value()));
  }

  @Override
  default int compareTo(Q other) {
    return Double.compare(value(), other.value());
  }
}
