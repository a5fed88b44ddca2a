package org.slabnote.methods.wave;

import org.apache.commons.math3.complex.Complex;

/**
 * Plane waves in a uniform medium with constant permittivity and conductivity.
 *
 * <p>Permeability that of free space. Check: PropagationReferenceTest (mpmath).
 *
 * @since 0.1
 */
public final class Propagation {

  /** Velocity of light in free space, m/ns (exact, SI). */
  public static final double LIGHT = 0.299792458;

  /** Permeability of free space, H/m (CODATA 2018). */
  public static final double PERMEABILITY = 1.25663706212e-6;

  /** Permittivity of free space, F/m: 1 / (permeability c^2). */
  public static final double PERMITTIVITY = 1 / (PERMEABILITY * 299792458.0 * 299792458.0);

  private Propagation() {}

  /**
   * A wave in a lossy medium.
   *
   * @param attenuation alpha, Np/m, one way
   * @param phaseConstant beta, rad/m
   * @param velocity phase velocity, m/ns
   * @param wavelength wavelength, m
   * @param impedance ratio of E to H, ohm
   */
  public record Wave(
      double attenuation,
      double phaseConstant,
      double velocity,
      double wavelength,
      Complex impedance) {

    /**
     * Attenuation in decibels.
     *
     * @return dB/m, one way: 20 log10(e) alpha
     */
    public double decibels() {
      return attenuation * 20 / StrictMath.log(10);
    }
  }

  /**
   * Velocity without loss: {@code c / sqrt(eps)}.
   *
   * @param permittivity relative permittivity, 1 or more
   * @return velocity, m/ns
   * @throws IllegalArgumentException if the permittivity is below 1
   */
  public static double velocity(double permittivity) {
    return LIGHT / Math.sqrt(checked(permittivity));
  }

  /**
   * Permittivity of a velocity without loss: {@code (c / v)^2}.
   *
   * @param velocity velocity, m/ns, above 0, up to c
   * @return relative permittivity, 1 or more
   * @throws IllegalArgumentException if the velocity is outside its range
   */
  public static double permittivity(double velocity) {
    if (!(velocity > 0 && velocity <= LIGHT)) {
      throw new IllegalArgumentException(
          "propagation: velocity = " + velocity + " m/ns; expected above 0, up to " + LIGHT);
    }
    double ratio = LIGHT / velocity;
    return ratio * ratio;
  }

  /**
   * Wave in a medium of constant permittivity and conductivity.
   *
   * <p>{@code alpha, beta = w sqrt(mu eps / 2) sqrt(sqrt(1 + (sigma / (w eps))^2) -/+ 1)}, {@code v = w /
   * beta}, impedance {@code j w mu / (alpha + j beta)}. The difference under alpha's root is formed
   * without cancellation, so small losses keep all digits.
   *
   * <p>Source: Balanis, Advanced Engineering Electromagnetics, 2nd ed. 2012, ch. 4.
   *
   * @param permittivity relative permittivity, 1 or more
   * @param conductivity S/m, 0 or more
   * @param frequency GHz, above 0
   * @return the wave
   * @throws IllegalArgumentException if an argument is outside its range
   */
  public static Wave wave(double permittivity, double conductivity, double frequency) {
    double eps = checked(permittivity) * PERMITTIVITY;
    if (!(conductivity >= 0) || !(frequency > 0) || Double.isInfinite(conductivity * frequency)) {
      throw new IllegalArgumentException("propagation: conductivity = " + conductivity
          + " S/m, frequency = " + frequency + " GHz; expected 0 or more, above 0");
    }
    double w = 2e9 * Math.PI * frequency;
    double tangent = conductivity / (w * eps);
    double root = Math.sqrt(1 + tangent * tangent);
    double base = w * Math.sqrt(PERMEABILITY * eps / 2);
    double alpha = base * tangent / Math.sqrt(root + 1);
    double beta = base * Math.sqrt(root + 1);
    double scale = w * PERMEABILITY / (alpha * alpha + beta * beta);
    return new Wave(
        alpha, beta, w / beta * 1e-9, 2 * Math.PI / beta, new Complex(scale * beta, scale * alpha));
  }

  /**
   * Radius of the first Fresnel zone: {@code sqrt((d + lambda / 4)^2 - d^2)}.
   *
   * @param depth depth, m, 0 or more
   * @param wavelength wavelength in the medium, m, above 0
   * @return radius, m
   * @throws IllegalArgumentException if an argument is outside its range
   */
  public static double fresnelRadius(double depth, double wavelength) {
    if (!(depth >= 0) || !(wavelength > 0)) {
      throw new IllegalArgumentException("Fresnel zone: depth = " + depth + " m, wavelength = "
          + wavelength + " m; expected 0 or more, above 0");
    }
    return Math.sqrt(wavelength * depth / 2 + wavelength * wavelength / 16);
  }

  static double checked(double permittivity) {
    if (!(permittivity >= 1) || Double.isInfinite(permittivity)) {
      throw new IllegalArgumentException(
          "propagation: permittivity = " + permittivity + "; expected 1 or more");
    }
    return permittivity;
  }
}
