package org.slabnote.fake;

import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Purpose;
import org.slabnote.api.Table;
import org.slabnote.api.Work;

/** Ends the process. */
@Op(id = "fake.kills", revision = 1, purpose = Purpose.MODEL)
public record Kills(int status) implements Operation<Table> {
  @Override
  public Table apply(Work work) {
    Runtime.getRuntime().halt(status);
    return new Table(java.util.List.of());
  }
}
