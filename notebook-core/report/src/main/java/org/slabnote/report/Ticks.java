package org.slabnote.report;

import java.util.ArrayList;
import java.util.List;

/**
 * Round numbers along an axis.
 *
 * @since 0.1
 */
public final class Ticks {
  private static final double[] STEPS = {1, 2, 5, 10};

  private Ticks() {}

  /** Returns round numbers from {@code from} to {@code to}, about {@code count} of them. */
  public static List<Double> between(double from, double to, int count) {
    List<Double> ticks = new ArrayList<>();
    double rough = (to - from) / Math.max(1, count);
    if (!(rough > 0)) {
      return ticks;
    }
    double power = StrictMath.pow(10, Math.floor(StrictMath.log10(rough)));
    double step = power * 10;
    for (double s : STEPS) {
      if (s * power >= rough) {
        step = s * power;
        break;
      }
    }
    for (double i = Math.ceil(from / step - 1e-9); i * step <= to + 1e-9 * step; i++) {
      ticks.add(i * step + 0.0);
    }
    return ticks;
  }
}
