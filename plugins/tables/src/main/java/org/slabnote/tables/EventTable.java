package org.slabnote.tables;

import org.slabnote.api.Event;
import org.slabnote.api.Events;
import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Purpose;
import org.slabnote.api.Step;
import org.slabnote.api.Table;
import org.slabnote.api.Work;

/**
 * The event ledger: a row per event above clutter, with what became of it.
 *
 * <p>Columns: {@code event, pass, channel, shape, x_m, y_m, distance_m, time_ns} (from the surface),
 * {@code depth_m, depth_u95_m, signal_to_noise_db, semblance_1, phase_deg, state, reason}.
 *
 * @param ledger events with their states
 * @since 0.1
 */
@Op(id = "tables.events", revision = 1, purpose = Purpose.TABLE)
public record EventTable(Step<Events> ledger) implements Operation<Table> {
  @Override
  public Table apply(Work work) {
    Sheet sheet = new Sheet()
        .text("event")
        .text("pass")
        .text("channel")
        .text("shape")
        .number("x_m", 3)
        .number("y_m", 3)
        .number("distance_m", 3)
        .number("time_ns", 3)
        .number("depth_m", 4)
        .number("depth_u95_m", 4)
        .number("signal_to_noise_db", 1)
        .number("semblance_1", 2)
        .number("phase_deg", 0)
        .text("state")
        .text("reason");
    for (Event e : ledger.get().list()) {
      work.checkCancelled();
      sheet.row(
          e.name(),
          e.pass(),
          e.channel(),
          TargetSchedule.words(e.shape()),
          e.place().x().value(),
          e.place().y().value(),
          e.distance().value().value(),
          e.time().value().value(),
          e.depth().value().value(),
          e.depth().u95().value(),
          e.signalToNoise().value(),
          e.semblance(),
          e.phase().value(),
          TargetSchedule.words(e.state()),
          e.reason());
    }
    work.progress(1);
    return sheet.toTable();
  }
}
