package org.slabnote.fake;

import java.util.concurrent.atomic.AtomicInteger;
import org.slabnote.api.Amplitudes;
import org.slabnote.api.Filter;
import org.slabnote.api.Op;
import org.slabnote.api.Param;
import org.slabnote.api.Purpose;
import org.slabnote.api.Scan;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Ratio;

/** Samples times a factor. */
@Op(id = "fake.scaled", revision = 3, purpose = Purpose.FILTER)
public record Scaled(
    @Param(meaning = "factor", from = "0.1", to = "10") Ratio factor) implements Filter<Scan> {
  /** How often it was computed. */
  public static final AtomicInteger RUNS = new AtomicInteger();

  @Override
  public Scan apply(Scan input, Work work) {
    RUNS.incrementAndGet();
    return input.eachTrace(work, trace -> {
      for (int i = 0; i < trace.length; i++) {
        trace[i] *= (float) factor.value();
      }
      return trace;
    });
  }

  @Override
  public Amplitudes amplitudes() {
    return Amplitudes.SAME_LINEAR;
  }
}
