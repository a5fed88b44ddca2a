package org.slabnote.engine.run;

/**
 * A time left that runs down like a clock: it never rises by itself for a passing doubt, falls fast where
 * the estimate does, and is never negative.
 */
final class Steadied {
  private static final double FALL_S = 2;
  private static final double RISE_S = 6;
  private static final double DOUBT = 1.3;
  private static final double DOUBT_S = 2;

  private double shown = -1;
  private double last;

  /**
   * Takes an estimate in.
   *
   * @param estimate seconds left
   * @param now seconds on any clock that only goes forward
   * @param more whether work became known that was not before: then the estimate counts as it is
   * @return seconds to show
   */
  double next(double estimate, double now, boolean more) {
    double passed = shown < 0 ? 0 : Math.max(0, now - last);
    last = now;
    if (shown < 0 || more && estimate > shown) {
      shown = estimate;
      return shown;
    }
    double before = shown;
    double run = Math.max(0, shown - passed);
    if (estimate < run) {
      shown = run + (estimate - run) * part(passed, FALL_S);
    } else if (estimate > before * DOUBT + DOUBT_S) {
      shown = before + (estimate - before) * part(passed, RISE_S);
    } else {
      shown = Math.max(run, Math.min(before, estimate));
    }
    return shown;
  }

  /** The part of a gap that is closed in a time. */
  private static double part(double passed, double constant) {
    return 1 - StrictMath.exp(-passed / constant);
  }
}
