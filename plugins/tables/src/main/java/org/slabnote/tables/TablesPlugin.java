package org.slabnote.tables;

import java.util.List;
import org.slabnote.api.Plugin;

/**
 * Offers the report tables to the notebook.
 *
 * @since 0.1
 */
public final class TablesPlugin implements Plugin {
  @Override
  public String id() {
    return "tables";
  }

  @Override
  public String summary() {
    return "Report tables: targets, velocities, clearances, events, visibility";
  }

  @Override
  public List<Class<?>> operations() {
    return List.of(
        TargetSchedule.class,
        VelocityTable.class,
        ClearanceTable.class,
        EventTable.class,
        VisibilityTable.class,
        CoverStatistics.class);
  }
}
