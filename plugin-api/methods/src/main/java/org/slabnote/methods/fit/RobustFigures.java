package org.slabnote.methods.fit;

import java.util.Arrays;

/**
 * Figures that a few wild values cannot move.
 *
 * @since 0.1
 */
public final class RobustFigures {

  private RobustFigures() {}

  /**
   * Median; for an even count the mean of the two middle values.
   *
   * @param values at least one, no NaN
   * @return median
   * @throws IllegalArgumentException if there is no value or one is NaN
   */
  public static double median(double... values) {
    return quantile(values, 0.5);
  }

  /**
   * Quantile by linear interpolation between order statistics, at {@code q (n - 1)} counted from 0.
   *
   * @param values at least one, no NaN
   * @param q 0 (least) to 1 (greatest)
   * @return quantile
   * @throws IllegalArgumentException if there is no value, one is NaN, or q is outside 0 to 1
   */
  public static double quantile(double[] values, double q) {
    if (values.length == 0) {
      throw new IllegalArgumentException("quantile: no values; expected one or more");
    }
    if (!(q >= 0 && q <= 1)) {
      throw new IllegalArgumentException("quantile: q = " + q + "; expected 0 to 1");
    }
    double[] sorted = values.clone();
    Arrays.sort(sorted);
    if (Double.isNaN(sorted[sorted.length - 1])) {
      throw new IllegalArgumentException("quantile: a value is NaN; expected numbers");
    }
    double place = q * (sorted.length - 1);
    int below = (int) Math.floor(place);
    int above = Math.min(below + 1, sorted.length - 1);
    double share = place - below;
    if (share == 0.5) {
      return (sorted[below] + sorted[above]) / 2;
    }
    return sorted[below] + share * (sorted[above] - sorted[below]);
  }

  /**
   * Median absolute deviation from the median, times 1.4826: for normal values their standard deviation.
   *
   * @param values at least one, no NaN
   * @return robust standard deviation, 0 or more
   * @throws IllegalArgumentException if there is no value or one is NaN
   */
  public static double deviation(double... values) {
    double centre = median(values);
    double[] moduli = new double[values.length];
    for (int i = 0; i < values.length; i++) {
      moduli[i] = Math.abs(values[i] - centre);
    }
    return median(moduli) / 0.6744897501960817;
  }
}
