package org.slabnote.worker.stop;

import org.jspecify.annotations.Nullable;

/**
 * Where a run can be stopped.
 *
 * <p>Each run's cells have a copy of this class of their own, made by their loader. Nothing else in a
 * cell can name it: the gate refuses the name.
 *
 * @since 0.1
 */
public final class StopPoint {
  private static volatile @Nullable Error stop;

  private StopPoint() {}

  /**
   * Goes on, or throws once the run is stopped: every time anew, so that no {@code catch}, no {@code
   * finally} and no recursion outlasts it.
   */
  public static void check() {
    Error now = stop;
    if (now != null) {
      throw now;
    }
  }

  /**
   * From now on has every check throw.
   *
   * @param why what is thrown, by all threads: one without a stack trace
   */
  public static void stop(Error why) {
    stop = why;
  }
}
