package org.slabnote.fake;

import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Purpose;
import org.slabnote.api.Table;
import org.slabnote.api.Work;

/** Refuses what it is given, in the 7th item of a loop at the earliest. */
@Op(id = "fake.refuses", revision = 1, purpose = Purpose.MODEL)
public record Refuses(String how) implements Operation<Table> {
  @Override
  public Table apply(Work work) {
    work.forEach(100, i -> {
      if (i >= 7 && how.equals("plainly")) {
        throw new IllegalArgumentException("item " + i + " does not serve; expected less than 7");
      }
      if (i >= 7) {
        throw new ArrayIndexOutOfBoundsException(i);
      }
    });
    throw new AssertionError("not reached");
  }
}
