package org.slabnote.probe;

import java.util.Optional;
import java.util.TreeMap;
import org.slabnote.api.Conclusion;
import org.slabnote.api.Cut;
import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Param;
import org.slabnote.api.Purpose;
import org.slabnote.api.Step;
import org.slabnote.api.Verdict;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Length;
import org.slabnote.api.quantity.Measured;
import org.slabnote.api.quantity.Ratio;

/** Draws a conclusion from a level: negative levels infringe. */
@Op(id = "probe.judge", revision = 1, purpose = Purpose.TARGETS)
public record Judge(
    Step<Measured<Ratio>> level, @Param(meaning = "the cut") Cut cut)
    implements Operation<Conclusion> {
  @Override
  public Conclusion apply(Work work) {
    Tally.count("judge " + cut.name());
    Measured<Ratio> in = level.get();
    Measured<Length> margin =
        Measured.about(new Length(in.value().value() / 1000)).from(in, 0.001).build();
    return new Conclusion(
        cut.name(),
        "level " + in.value(),
        in.value().value() < 0 ? Verdict.INFRINGES : Verdict.NOT_RESOLVED,
        Optional.of(margin),
        Optional.empty(),
        new TreeMap<>());
  }
}
