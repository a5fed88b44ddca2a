package org.slabnote.fake;

import java.util.List;
import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Purpose;
import org.slabnote.api.Work;

/** A value of types that the API does not have. */
@Op(id = "fake.named", revision = 1, purpose = Purpose.MODEL)
public record Named(Colour colour) implements Operation<Named.Pair> {
  /** Colours. */
  public enum Colour {
    /** One. */
    RED,
    /** Another. */
    BLUE
  }

  /** A pair. */
  public record Pair(Colour colour, List<Integer> numbers) {}

  @Override
  public Pair apply(Work work) {
    return new Pair(colour, List.of((int) work.random(5).nextLong(1000), 2));
  }
}
