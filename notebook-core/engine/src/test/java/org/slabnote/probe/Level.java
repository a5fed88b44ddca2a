package org.slabnote.probe;

import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Purpose;
import org.slabnote.api.Scan;
import org.slabnote.api.Step;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Measured;
import org.slabnote.api.quantity.Ratio;

/** Mean of all samples, with an invented uncertainty. */
@Op(id = "probe.level", revision = 1, purpose = Purpose.ACQUISITION)
public record Level(Step<Scan> scan) implements Operation<Measured<Ratio>> {
  @Override
  public Measured<Ratio> apply(Work work) {
    Scan in = scan.get();
    Tally.count("level " + in.pass());
    double sum = 0;
    for (int i = 0; i < in.samples().size(); i++) {
      sum += in.samples().get(i);
    }
    return Measured.of(
        new Ratio(sum / in.samples().size()), work.source("spread"), new Ratio(0.25));
  }
}
