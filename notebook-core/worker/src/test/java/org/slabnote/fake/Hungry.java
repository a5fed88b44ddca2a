package org.slabnote.fake;

import java.util.ArrayList;
import java.util.List;
import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Purpose;
import org.slabnote.api.Table;
import org.slabnote.api.Work;

/** Takes all memory. */
@Op(id = "fake.hungry", revision = 1, purpose = Purpose.MODEL)
public record Hungry(int megabytes) implements Operation<Table> {
  @Override
  public Table apply(Work work) {
    List<byte[]> eaten = new ArrayList<>();
    while (eaten.size() < Integer.MAX_VALUE) {
      eaten.add(new byte[megabytes << 20]);
    }
    throw new AssertionError(eaten.get(0).length);
  }
}
