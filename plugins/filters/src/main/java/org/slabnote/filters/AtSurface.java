package org.slabnote.filters;

import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Purpose;
import org.slabnote.api.Scan;
import org.slabnote.api.Step;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Measured;
import org.slabnote.api.quantity.TimeSpan;

/**
 * States the surface time of a scan; samples and time axis stay as they are.
 *
 * <p>An along scan takes the surface time of the across scan of the same pass: its own direct wave is
 * another wave by nature. The two antennas must then share one clock; where they do not, the balance
 * of the antennas carries the delay. A surface time outside the time axis is refused.
 *
 * @param scan any scan
 * @param surface surface time on the scan's own axis, with its uncertainty
 * @since 0.1
 */
@Op(id = "filters.at-surface", revision = 1, purpose = Purpose.FILTER)
public record AtSurface(Step<Scan> scan, Step<Measured<TimeSpan>> surface)
    implements Operation<Scan> {

  @Override
  public Scan apply(Work work) {
    Scan input = scan.get();
    Measured<TimeSpan> time = surface.get();
    double at = time.value().value();
    // A file may start a little after time zero; one that starts a whole direct wave later may not.
    double early =
        input.axis().start().value() - input.antenna().centre().period().value();
    if (at < early || at > input.axis().end().value()) {
      throw new IllegalArgumentException(
          "filters.at-surface: scan " + input.pass() + ", channel " + input.channel()
              + ": surface time = " + time.value() + "; the time axis runs from "
              + input.axis().start() + " to " + input.axis().end()
              + ". Perhaps the surface time belongs to a scan of another start time");
    }
    work.progress(1);
    return input.withSurface(time);
  }
}
