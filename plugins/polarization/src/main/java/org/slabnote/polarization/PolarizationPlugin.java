package org.slabnote.polarization;

import java.util.List;
import org.slabnote.api.Plugin;

/**
 * Comparison of the two antenna orientations.
 *
 * @since 0.1
 */
public final class PolarizationPlugin implements Plugin {
  @Override
  public String id() {
    return "polarization";
  }

  @Override
  public String summary() {
    return "balance of the antennas, pair ratio at the apex, class probabilities";
  }

  @Override
  public List<Class<?>> operations() {
    return List.of(FindBalance.class, PairRatios.class, Classify.class);
  }
}
