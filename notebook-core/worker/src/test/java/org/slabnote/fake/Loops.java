package org.slabnote.fake;

import org.slabnote.api.Amplitudes;
import org.slabnote.api.Filter;
import org.slabnote.api.Op;
import org.slabnote.api.Purpose;
import org.slabnote.api.Scan;
import org.slabnote.api.Work;

/** A filter that names a source of uncertainty, which none may. */
@Op(id = "fake.loops", revision = 1, purpose = Purpose.FILTER)
public record Loops() implements Filter<Scan> {
  @Override
  public Scan apply(Scan input, Work work) {
    throw new IllegalStateException(work.source("fit"));
  }

  @Override
  public Amplitudes amplitudes() {
    return Amplitudes.UNCHANGED;
  }
}
