package org.slabnote.methods.wave;

import org.apache.commons.math3.complex.Complex;

/**
 * Reflection at plane boundaries, and permittivity from it.
 *
 * <p>Check: PropagationReferenceTest (mpmath).
 *
 * @since 0.1
 */
public final class Reflection {

  private Reflection() {}

  /**
   * Reflection coefficient of E at normal incidence: {@code (n1 - n2) / (n1 + n2)}, n the complex
   * refractive index {@code sqrt(eps - j sigma / (w eps0))}.
   *
   * <p>Negative where permittivity rises, positive at an air gap below concrete; metal is -1.
   *
   * @param permittivity1 permittivity on the side of the incoming wave, 1 or more
   * @param conductivity1 its conductivity, S/m, 0 or more
   * @param permittivity2 permittivity beyond, 1 or more
   * @param conductivity2 its conductivity, S/m, 0 or more
   * @param frequency GHz, above 0
   * @return reflection coefficient, exp(+j w t)
   * @throws IllegalArgumentException if an argument is outside its range
   */
  public static Complex normal(
      double permittivity1,
      double conductivity1,
      double permittivity2,
      double conductivity2,
      double frequency) {
    // the index is proportional to beta - j alpha
    Propagation.Wave one = Propagation.wave(permittivity1, conductivity1, frequency);
    Propagation.Wave two = Propagation.wave(permittivity2, conductivity2, frequency);
    double a = one.phaseConstant() - two.phaseConstant();
    double b = two.attenuation() - one.attenuation();
    double c = one.phaseConstant() + two.phaseConstant();
    double d = -one.attenuation() - two.attenuation();
    double norm = c * c + d * d;
    return new Complex((a * c + b * d) / norm, (b * c - a * d) / norm);
  }

  /**
   * Permittivity of the slab from its surface echo against that of a metal plate on the same spot.
   *
   * <p>With {@code r = surface / plate}: {@code eps = ((1 + r) / (1 - r))^2}. Standard uncertainty to
   * first order: {@code u(eps) = 4 (1 + r) / (1 - r)^3 u(r)}. Holds for normal incidence, a smooth dry
   * surface and low loss. r = 0 gives 1 (air).
   *
   * @param surface peak amplitude over the slab, modulus
   * @param plate peak amplitude over the plate, modulus, unit of surface
   * @return relative permittivity, at least 1
   * @throws IllegalArgumentException if r is outside [0, 1)
   * @see "ASTM D4748: the approach"
   */
  public static double plate(double surface, double plate) {
    double r = plateRatio(surface, plate);
    double root = (1 + r) / (1 - r);
    return root * root;
  }

  /**
   * Permittivity of the second layer from its echo: {@code eps1 ((1 - r^2 + q) / (1 - r^2 - q))^2}, {@code
   * r = surface / plate}, {@code q = second / plate}.
   *
   * <p>No loss, no multiples.
   *
   * @param permittivity1 permittivity of the first layer, 1 or more
   * @param surface peak amplitude of the surface echo, modulus
   * @param second peak amplitude of the second boundary's echo, positive where permittivity rises
   * @param plate peak amplitude over the plate, modulus
   * @return relative permittivity of the second layer
   * @throws IllegalArgumentException if the amplitudes do not fit one another
   */
  public static double plateSecondLayer(
      double permittivity1, double surface, double second, double plate) {
    double r = plateRatio(surface, plate);
    double q = second / plate;
    double through = 1 - r * r;
    if (!(Math.abs(q) < through)) {
      throw new IllegalArgumentException("plate reflection: second echo / plate = " + q
          + "; expected less than " + through + " in modulus, what the surface lets through");
    }
    double root = (through + q) / (through - q);
    return Propagation.checked(permittivity1) * root * root;
  }

  private static double plateRatio(double surface, double plate) {
    double r = surface / plate;
    if (!(r >= 0 && r < 1)) {
      throw new IllegalArgumentException(
          "plate reflection: surface / plate = " + r + "; expected 0 up to, not including, 1."
              + " Compare echoes of one antenna height, and the same phase of both");
    }
    return r;
  }
}
