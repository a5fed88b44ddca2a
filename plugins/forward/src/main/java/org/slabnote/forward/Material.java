package org.slabnote.forward;

import org.slabnote.api.quantity.Length;
import org.slabnote.api.quantity.Ratio;

/**
 * What a cylinder is made of.
 *
 * @since 0.1
 */
public sealed interface Material {

  /**
   * A perfect conductor, solid or not: radar sees its outside only.
   *
   * @since 0.1
   */
  record Metal() implements Material {}

  /**
   * A tube of dielectric with a filling.
   *
   * @param wall relative permittivity of the wall
   * @param filling relative permittivity of what is inside: 1 for air, about 80 for water
   * @param bore inside diameter, smaller than the outside diameter
   * @since 0.1
   */
  record Tube(Ratio wall, Ratio filling, Length bore) implements Material {}
}
