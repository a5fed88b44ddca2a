package org.slabnote.probe;

import java.util.ArrayList;
import java.util.List;
import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Param;
import org.slabnote.api.Purpose;
import org.slabnote.api.Scan;
import org.slabnote.api.Step;
import org.slabnote.api.Work;

/** Refuses its input, goes on until it is cancelled, or takes more than there is. */
@Op(id = "probe.stubborn", revision = 1, purpose = Purpose.ACQUISITION)
public record Stubborn(
    Step<Scan> scan, @Param(meaning = "what it does") Mood mood) implements Operation<Integer> {
  /** What it does. */
  public enum Mood {
    /** Refuses. */
    REFUSE,
    /** Goes on. */
    GO_ON,
    /** Takes all memory. */
    EAT,
    /** Calls itself without end. */
    CALL,
    /** Ends the process. */
    END
  }

  @Override
  public Integer apply(Work work) {
    if (mood == Mood.REFUSE) {
      throw new IllegalArgumentException("probe.stubborn: scan " + scan.get().pass() + " has "
          + scan.get().traces() + " traces; expected none. Leave it out");
    }
    List<long[]> eaten = new ArrayList<>();
    while (true) {
      switch (mood) {
        case EAT -> {
          eaten.add(new long[1 << 20]);
          work.progress(1 - 1.0 / eaten.size());
        }
        case CALL -> apply(work);
        case END -> Runtime.getRuntime().halt(7);
        default -> work.checkCancelled();
      }
    }
  }
}
