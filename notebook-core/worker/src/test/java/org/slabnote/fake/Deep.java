package org.slabnote.fake;

import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Purpose;
import org.slabnote.api.Table;
import org.slabnote.api.Work;

/** Calls itself without end. */
@Op(id = "fake.deep", revision = 1, purpose = Purpose.MODEL)
public record Deep(int start) implements Operation<Table> {
  @Override
  public Table apply(Work work) {
    throw new IllegalStateException("depth " + down(start));
  }

  private static long down(long n) {
    return n == Long.MIN_VALUE ? 0 : 1 + down(n + 1);
  }
}
