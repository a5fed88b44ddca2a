package org.slabnote.velocity;

import java.util.List;
import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Param;
import org.slabnote.api.Purpose;
import org.slabnote.api.VelocityEstimate;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Measured;
import org.slabnote.api.quantity.Ratio;
import org.slabnote.api.quantity.Velocity;

/**
 * Velocity of a stated permittivity: {@code v = c / sqrt(eps)}, {@code u(v) = v u(eps) / (2 eps)}.
 *
 * <p>For values from a table or from another survey. A table value has 15 to 25 % (common
 * practice, no source), that is 8 to 12 % in depth.
 *
 * @param permittivity relative permittivity
 * @param u its standard uncertainty
 * @param evidence where it comes from
 * @since 0.1
 */
@Op(id = "velocity.stated-permittivity", revision = 1, purpose = Purpose.VELOCITY)
public record StatedPermittivity(
    @Param(meaning = "relative permittivity of the slab", from = "1", to = "81", doubt = "20 %")
    Ratio permittivity,

    @Param(meaning = "its standard uncertainty", from = "0", to = "40")
    Ratio u,

    @Param(meaning = "where the value comes from, in words") String evidence)
    implements Operation<VelocityEstimate> {

  @Override
  public VelocityEstimate apply(Work work) {
    double eps = permittivity.value();
    double v = Velocity.ofPermittivity(eps).value();
    work.progress(1);
    return new VelocityEstimate(
        Measured.of(
            new Velocity(v),
            work.source("stated permittivity"),
            new Velocity(v * u.value() / (2 * eps))),
        "stated permittivity",
        evidence,
        List.of());
  }
}
