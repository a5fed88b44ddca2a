package org.slabnote.fake;

import java.util.Optional;
import java.util.TreeMap;
import org.slabnote.api.Conclusion;
import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Purpose;
import org.slabnote.api.Step;
import org.slabnote.api.Verdict;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Length;
import org.slabnote.api.quantity.Measured;

/** A conclusion from a length. */
@Op(id = "fake.verdicts", revision = 1, purpose = Purpose.TARGETS)
public record Verdicts(Step<Measured<Length>> margin) implements Operation<Conclusion> {
  @Override
  public Conclusion apply(Work work) {
    return new Conclusion(
        "cut",
        "statement",
        Verdict.values()[0],
        Optional.of(margin.get().with(work.source("slab"), new Length(0.25))),
        Optional.empty(),
        new TreeMap<>());
  }
}
