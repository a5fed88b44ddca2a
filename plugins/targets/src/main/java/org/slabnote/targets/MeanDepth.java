package org.slabnote.targets;

import java.util.List;
import org.slabnote.api.Event;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Length;
import org.slabnote.api.quantity.Measured;

/**
 * Budget of a depth that several events give.
 *
 * <p>Their contributions are averaged, source by source, with signs: an event's own pick averages out,
 * what the passes share by name (velocity, antenna, envelope's delay) does not.
 */
final class MeanDepth {
  private MeanDepth() {}

  /** The budget of {@code depth} m from equally weighted events, and the fit's own uncertainty, m. */
  static Measured<Length> of(double depth, List<Event> events, double fitU, Work work) {
    Measured.Builder<Length> builder = Measured.about(new Length(depth));
    for (Event e : events) {
      builder.from(e.depth(), 1.0 / events.size());
    }
    return builder.from(work.source("linking in depth"), fitU).build();
  }
}
