package org.slabnote.methods.wave;

/**
 * Permittivity from composition and moisture.
 *
 * <p>Check: PropagationReferenceTest.
 *
 * @since 0.1
 */
public final class Mixing {

  private Mixing() {}

  /**
   * Volumetric water content after Topp: {@code -0.053 + 0.0292 e - 0.00055 e^2 + 4.3e-6 e^3}.
   *
   * <p>A soil calibration: for concrete an indication only. Source: Topp, Davis, Annan 1980, Water
   * Resources Research 16(3), 574-582.
   *
   * @param permittivity relative permittivity, 1 to 90
   * @return water content, m3/m3; slightly negative below 1.9
   * @throws IllegalArgumentException if the permittivity is outside its range
   */
  public static double toppMoisture(double permittivity) {
    double e = permittivity;
    if (!(e >= 1 && e <= 90)) {
      throw new IllegalArgumentException(
          "moisture after Topp: permittivity = " + e + "; expected 1 to 90");
    }
    return -0.053 + e * (0.0292 + e * (-0.00055 + e * 4.3e-6));
  }

  /**
   * Permittivity after Topp: {@code 3.03 + 9.3 w + 146 w^2 - 76.7 w^3}.
   *
   * <p>A separate fit of the same paper, not the exact inverse of {@link #toppMoisture}: the round trip
   * is off by up to 0.012 in water content.
   *
   * @param moisture volumetric water content, m3/m3, 0 to 1
   * @return relative permittivity
   * @throws IllegalArgumentException if the water content is outside its range
   */
  public static double toppPermittivity(double moisture) {
    share("water content", moisture);
    return 3.03 + moisture * (9.3 + moisture * (146 - moisture * 76.7));
  }

  /**
   * Mixture by refractive index: {@code sqrt(e) = (1 - n) sqrt(e_solid) + n S sqrt(e_water) + n (1 - S)
   * sqrt(e_air)}.
   *
   * <p>Source: Birchak et al. 1974, Proc. IEEE 62, 93-98; Roth et al. 1990, Water Resources Research 26.
   *
   * @param porosity n, 0 to 1
   * @param saturation S, share of the pores filled with water, 0 to 1
   * @param solid permittivity of the solids, 1 or more
   * @param water permittivity of the water, 1 or more
   * @param air permittivity of the rest, 1 or more
   * @return relative permittivity of the mixture
   * @throws IllegalArgumentException if an argument is outside its range
   */
  public static double crim(
      double porosity, double saturation, double solid, double water, double air) {
    share("porosity", porosity);
    share("saturation", saturation);
    double root = (1 - porosity) * Math.sqrt(Propagation.checked(solid))
        + porosity * saturation * Math.sqrt(Propagation.checked(water))
        + porosity * (1 - saturation) * Math.sqrt(Propagation.checked(air));
    return root * root;
  }

  private static void share(String name, double value) {
    if (!(value >= 0 && value <= 1)) {
      throw new IllegalArgumentException("mixture: " + name + " = " + value + "; expected 0 to 1");
    }
  }
}
