package org.slabnote.fake;

import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Purpose;
import org.slabnote.api.Table;
import org.slabnote.api.Work;

/** Never ends; looks for a cancel or does not. */
@Op(id = "fake.endless", revision = 1, purpose = Purpose.MODEL)
public record Endless(boolean polite) implements Operation<Table> {
  @Override
  public Table apply(Work work) {
    for (long i = 0; ; i++) {
      if (polite) {
        work.checkCancelled();
      }
      if (i < 0) {
        return new Table(java.util.List.of());
      }
    }
  }
}
