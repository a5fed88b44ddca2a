package org.slabnote.probe;

import org.slabnote.api.Amplitudes;
import org.slabnote.api.Filter;
import org.slabnote.api.Op;
import org.slabnote.api.Param;
import org.slabnote.api.Purpose;
import org.slabnote.api.Scan;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Ratio;

/** Multiplies every sample. */
@Op(id = "probe.scale", revision = 1, purpose = Purpose.FILTER)
public record Scale(
    @Param(meaning = "factor of every sample", from = "0.1", to = "10")
    Ratio factor) implements Filter<Scan> {
  @Override
  public Amplitudes amplitudes() {
    return Amplitudes.SAME_LINEAR;
  }

  @Override
  public Scan apply(Scan input, Work work) {
    Tally.count("scale " + input.pass());
    return input.eachTrace(work, trace -> {
      for (int i = 0; i < trace.length; i++) {
        trace[i] *= (float) factor.value();
      }
      return trace;
    });
  }
}
