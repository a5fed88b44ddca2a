package org.slabnote.fake;

import java.util.List;
import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Purpose;
import org.slabnote.api.Work;

/** The first of a list that it did not copy, as it should have. */
@Op(id = "fake.listed", revision = 1, purpose = Purpose.TABLE)
public record Listed(List<Integer> all) implements Operation<Integer> {
  @Override
  public Integer apply(Work work) {
    return all.get(0);
  }
}
