package org.slabnote.fake;

import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Purpose;
import org.slabnote.api.Step;
import org.slabnote.api.Steps;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Length;
import org.slabnote.api.quantity.Measured;

/** The sum of lengths. */
@Op(id = "fake.total", revision = 1, purpose = Purpose.MODEL)
public record Total(Steps<Measured<Length>> parts) implements Operation<Measured<Length>> {
  @Override
  public Measured<Length> apply(Work work) {
    Measured<Length> sum = Measured.exact(new Length(0));
    for (Step<Measured<Length>> part : parts.list()) {
      sum = sum.plus(part.get());
    }
    return sum;
  }
}
