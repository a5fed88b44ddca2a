package org.slabnote.targets;

import java.util.List;
import org.slabnote.api.Plugin;

/**
 * Targets: events, lines, depths, the event ledger, what could be seen, clearances.
 *
 * @since 0.1
 */
public final class TargetsPlugin implements Plugin {
  @Override
  public String id() {
    return "targets";
  }

  @Override
  public String summary() {
    return "Finds targets, says where and how deep they are, what else was seen, and how cuts stand to them";
  }

  @Override
  public List<Class<?>> operations() {
    return List.of(
        DetectDiffractions.class,
        DetectPlanes.class,
        PickTarget.class,
        LinkEvents.class,
        EventLedger.class,
        Sight.class,
        Clearance.class);
  }
}
