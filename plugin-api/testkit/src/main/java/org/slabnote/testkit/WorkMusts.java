package org.slabnote.testkit;

import org.slabnote.api.CancelledException;

/** Progress and cancel. */
final class WorkMusts {
  /** Ten times what the contract allows between two looks: a slow machine is no fault. */
  private static final long SLOW_NANOSECONDS = 500_000_000;

  private WorkMusts() {}

  static void progress(Subject subject) {
    TestWork work = TestWork.serial();
    subject.run(work);
    if (work.loops() == 0 && work.reports().isEmpty()) {
      throw new AssertionError(
          subject.id() + ": no progress was reported; expected work.forEach or work.progress");
    }
    double last = 0;
    for (double share : work.reports()) {
      if (!(share >= last && share <= 1)) {
        throw new AssertionError(subject.id() + ": progress " + share + " after " + last
            + "; expected 0 to 1, never falling");
      }
      last = share;
    }
  }

  static void cancel(Subject subject) {
    TestWork whole = TestWork.serial();
    long start = System.nanoTime();
    subject.run(whole);
    long took = System.nanoTime() - start;
    int looks = whole.looks();
    if (took > SLOW_NANOSECONDS * (looks + 1L)) {
      throw new AssertionError(
          subject.id() + ": looked for a cancel " + looks + " times in " + took / 1_000_000
              + " ms; expected every 50 ms. Use work.forEach or call work.checkCancelled");
    }
    for (int after : new int[] {0, looks / 2, looks - 1}) {
      if (after >= 0 && after < looks) {
        cancelledAfter(subject, after);
      }
    }
  }

  private static void cancelledAfter(Subject subject, int looks) {
    try {
      subject.run(TestWork.cancelledAfter(looks));
    } catch (CancelledException e) {
      return;
    } catch (RuntimeException e) {
      throw new AssertionError(
          subject.id() + ": a cancel came out as " + e + "; expected the CancelledException itself",
          e);
    }
    throw new AssertionError(subject.id() + ": cancelled after " + looks
        + " looks, yet it gave a result;" + " expected the CancelledException to pass through");
  }
}
