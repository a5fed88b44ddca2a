package org.slabnote.api.quantity;

/**
 * Factories of quantities, named by the SI symbol; meant for static import.
 *
 * <p>Conversions divide by exact powers of ten, so that {@code mm(16)} is the double nearest to
 * 0.016 and {@code in(24)} the one nearest to 0.6096 (the inch is 25.4 mm exactly,
 * International Yard and Pound agreement of 1959).
 *
 * @since 0.1
 */
public final class Quantities {
  private Quantities() {}

  /** Returns a length in metres. */
  public static Length m(double value) {
    return new Length(value);
  }

  /** Returns a length in millimetres. */
  public static Length mm(double value) {
    return new Length(value / 1000);
  }

  /** Returns a length in inches of 25.4 mm. */
  public static Length in(double value) {
    return new Length(value * 254 / 10000);
  }

  /** Returns a length in feet of 304.8 mm. */
  public static Length ft(double value) {
    return new Length(value * 3048 / 10000);
  }

  /** Returns a time in nanoseconds. */
  public static TimeSpan ns(double value) {
    return new TimeSpan(value);
  }

  /** Returns a time in picoseconds. */
  public static TimeSpan ps(double value) {
    return new TimeSpan(value / 1000);
  }

  /** Returns a frequency in megahertz. */
  public static Frequency MHz(double value) {
    return new Frequency(value);
  }

  /** Returns a frequency in gigahertz. */
  public static Frequency GHz(double value) {
    return new Frequency(value * 1000);
  }

  /** Returns a velocity in metres per nanosecond. */
  public static Velocity mPerNs(double value) {
    return new Velocity(value);
  }

  /** Returns the wave velocity in a lossless medium of relative permittivity {@code eps}. */
  public static Velocity permittivity(double eps) {
    return Velocity.ofPermittivity(eps);
  }

  /** Returns an angle in degrees. */
  public static Angle deg(double value) {
    return new Angle(value);
  }

  /** Returns a level in decibels. */
  public static Decibel dB(double value) {
    return new Decibel(value);
  }

  /** Returns a dimensionless number. */
  public static Ratio ratio(double value) {
    return new Ratio(value);
  }
}
