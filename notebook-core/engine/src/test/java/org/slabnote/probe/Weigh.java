package org.slabnote.probe;

import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Param;
import org.slabnote.api.Picks;
import org.slabnote.api.Purpose;
import org.slabnote.api.Step;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Measured;
import org.slabnote.api.quantity.Ratio;

/** A level times the number of picks. */
@Op(id = "probe.weigh", revision = 1, purpose = Purpose.ACQUISITION)
public record Weigh(
    Step<Measured<Ratio>> level, @Param(meaning = "picks") Picks picks)
    implements Operation<Measured<Ratio>> {
  @Override
  public Measured<Ratio> apply(Work work) {
    Tally.count("weigh");
    return Measured.of(
        new Ratio(level.get().value().value() * picks.list().size()),
        work.source("weight"),
        new Ratio(0.1));
  }
}
