package org.slabnote.forward;

import org.slabnote.api.quantity.Length;
import org.slabnote.api.quantity.Ratio;

/**
 * One homogeneous slab of concrete with air above and below.
 *
 * @param permittivity relative permittivity, real part, 1 or more
 * @param conductivity constant conductivity, S/m, zero or more, as a pure number
 * @param lossTangent further loss that grows with frequency: imaginary over real part of the
 *     permittivity, zero or more; it makes a travelling pulse longer
 * @param thickness thickness; the base is a plane to air
 * @since 0.1
 */
public record Concrete(
    Ratio permittivity, Ratio conductivity, Ratio lossTangent, Length thickness) {
  /**
   * Checks the ranges.
   *
   * @throws IllegalArgumentException if one lies outside
   */
  public Concrete {
    if (permittivity.value() < 1
        || conductivity.value() < 0
        || lossTangent.value() < 0
        || thickness.value() <= 0) {
      throw new IllegalArgumentException(
          "concrete with permittivity " + permittivity + ", conductivity "
              + conductivity + " S/m, loss tangent " + lossTangent + ", thickness " + thickness
              + "; expected at least 1, at least 0, at least 0, above 0");
    }
  }
}
