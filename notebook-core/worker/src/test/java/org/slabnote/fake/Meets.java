package org.slabnote.fake;

import java.util.concurrent.BrokenBarrierException;
import java.util.concurrent.CyclicBarrier;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Param;
import org.slabnote.api.Purpose;
import org.slabnote.api.Work;

/** Ends only when another of its kind is computed at the same time. */
@Op(id = "fake.meets", revision = 1, purpose = Purpose.MODEL)
public record Meets(@Param(meaning = "which of the two") int number) implements Operation<Integer> {
  private static final CyclicBarrier BOTH = new CyclicBarrier(2);

  @Override
  public Integer apply(Work work) {
    try {
      BOTH.await(30, TimeUnit.SECONDS);
      return number;
    } catch (InterruptedException | BrokenBarrierException | TimeoutException e) {
      throw new IllegalStateException("no other step was computed at the same time", e);
    }
  }
}
