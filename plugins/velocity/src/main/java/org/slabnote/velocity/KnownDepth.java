package org.slabnote.velocity;

import java.util.List;
import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Param;
import org.slabnote.api.Pick;
import org.slabnote.api.Purpose;
import org.slabnote.api.Scan;
import org.slabnote.api.Step;
import org.slabnote.api.VelocityEstimate;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Length;
import org.slabnote.api.quantity.Measured;
import org.slabnote.api.quantity.Units;
import org.slabnote.api.quantity.Velocity;

/**
 * Velocity from an echo of known depth: a core, a drilled hole, a measured thickness.
 *
 * <p>{@code v = sqrt(4 z^2 + s^2) / t}, z the depth to the plane or to the top of the target right
 * below the antennas, s their separation, t = pick less the scan's surface time. Uncertainty by
 * source: depth {@code 4 z u(z) / (L t)}, pick {@code v u(t) / t} with 0.05 of a period for the
 * pick, and the surface time with its sign. Known there only: elsewhere the slab may differ.
 *
 * <p>Errors: a pick on another pass, or one that gives no velocity below that of light.
 * Source: geometry. Check: ContractTest, a time computed by another program.
 *
 * @param scan scan with its surface time; its samples are not used
 * @param pick the envelope's peak of the echo, at its apex
 * @param depth the known depth
 * @param u standard uncertainty of the depth
 * @param evidence how the depth is known
 * @since 0.1
 */
@Op(id = "velocity.known-depth", revision = 1, purpose = Purpose.VELOCITY)
public record KnownDepth(
    Step<Scan> scan,

    @Param(meaning = "peak of the envelope of the echo, right above the target")
    Pick pick,

    @Param(meaning = "known depth to the plane or to the target's top", from = "5 mm", to = "3 m")
    Length depth,

    @Param(meaning = "standard uncertainty of the depth", from = "0 mm", to = "500 mm")
    Length u,

    @Param(meaning = "how the depth is known, in words") String evidence)
    implements Operation<VelocityEstimate> {

  private static final double PICK = 0.05;

  @Override
  public VelocityEstimate apply(Work work) {
    Scan input = scan.get();
    String where = "velocity.known-depth: pick on pass " + pick.pass();
    if (!pick.pass().equals(input.pass())) {
      throw new IllegalArgumentException(
          where + ", but the scan is of pass " + input.pass() + ". Take pick and scan of one pass");
    }
    double s = input.antenna().separation().value();
    double z = depth.value();
    double length = Math.sqrt(4 * z * z + s * s);
    double t = pick.time().value() - input.requireSurface().value().value();
    if (!(t > length / Velocity.LIGHT.value())) {
      throw new IllegalArgumentException(
          where + ": " + Units.plain(t, 4) + " ns after the surface time for a path of "
              + Units.plain(length * 1000, 4) + " mm, faster than light; expected more than "
              + Units.plain(length / Velocity.LIGHT.value(), 4)
              + " ns. Check depth, pick and surface time");
    }
    double v = length / t;
    double period = input.antenna().centre().period().value();
    work.progress(1);
    Measured<Velocity> velocity = Measured.about(new Velocity(v))
        .from(work.source("known depth"), 4 * z * u.value() / (length * t))
        .from(work.source("pick"), v / t * PICK * period)
        .from(input.requireSurface(), v / t)
        .build();
    return new VelocityEstimate(velocity, "known depth", evidence, List.of());
  }
}
