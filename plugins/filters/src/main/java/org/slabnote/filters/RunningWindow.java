package org.slabnote.filters;

import org.slabnote.api.TimeAxis;
import org.slabnote.api.quantity.TimeSpan;

/** What filters with a running window share. */
final class RunningWindow {
  private RunningWindow() {}

  /** Returns how many samples a window reaches to each side: {@code round(window / (2 dt))}, at most all. */
  static int half(TimeSpan window, TimeAxis axis) {
    double half = StrictMath.rint(window.over(axis.interval()) / 2);
    return (int) Math.min(half, axis.count());
  }

  /** Returns the sums of the first 0, 1, 2 ... samples, one more than there are samples. */
  static double[] sums(float[] values) {
    double[] before = new double[values.length + 1];
    for (int i = 0; i < values.length; i++) {
      before[i + 1] = before[i] + values[i];
    }
    return before;
  }
}
