package org.slabnote.velocity;

import java.util.List;
import org.slabnote.api.Plugin;

/**
 * Velocity of the wave in the slab.
 *
 * @since 0.1
 */
public final class VelocityPlugin implements Plugin {
  @Override
  public String id() {
    return "velocity";
  }

  @Override
  public String summary() {
    return "velocity of the wave: diffractions, known depths, stated permittivity, their mean";
  }

  @Override
  public List<Class<?>> operations() {
    return List.of(
        HyperbolaFit.class,
        FitDiffractions.class,
        CombineVelocities.class,
        StatedPermittivity.class,
        KnownDepth.class);
  }
}
