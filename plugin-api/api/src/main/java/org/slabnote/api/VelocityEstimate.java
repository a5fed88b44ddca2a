package org.slabnote.api;

import java.util.List;
import org.slabnote.api.quantity.Measured;
import org.slabnote.api.quantity.Ratio;
import org.slabnote.api.quantity.Velocity;

/**
 * The wave velocity of the slab, how it was found, and from what.
 *
 * @param velocity estimate with its budget; a budget that shares the surface time's source with a
 *     scan lets depths cancel what they share
 * @param method name of the method, as in {@code hyperbola fit}
 * @param evidence what it rests on, in words: passes, places, number of picks, residual
 * @param members the determinations that were combined; empty for a single one
 * @since 0.1
 */
public record VelocityEstimate(
    Measured<Velocity> velocity, String method, String evidence, List<VelocityEstimate> members) {

  /**
   * Checks the velocity.
   *
   * @throws IllegalArgumentException if it is not above zero and at most that of light
   */
  public VelocityEstimate {
    members = List.copyOf(members);
    double v = velocity.value().value();
    if (v <= 0 || v > Velocity.LIGHT.value()) {
      throw new IllegalArgumentException(method + ": velocity = " + velocity.value()
          + "; expected above 0 and at most 0.299792458 m/ns");
    }
  }

  /** Returns the relative permittivity {@code (c/v)^2} with {@code u(eps) = 2 eps u(v) / v}. */
  public Measured<Ratio> permittivity() {
    double eps = velocity.value().permittivity();
    return Measured.about(new Ratio(eps))
        .from(velocity, -2 * eps / velocity.value().value())
        .build();
  }
}
