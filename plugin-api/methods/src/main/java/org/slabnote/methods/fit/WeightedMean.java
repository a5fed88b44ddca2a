package org.slabnote.methods.fit;

import org.apache.commons.math3.distribution.ChiSquaredDistribution;

/**
 * Mean of several independent determinations of one quantity, with a test whether they agree.
 *
 * <p>{@code mean = sum(x / u^2) / sum(1 / u^2)}, internal uncertainty {@code 1 / sqrt(sum(1 / u^2))},
 * {@code chi^2 = sum((x - mean)^2 / u^2)}, Birge ratio {@code sqrt(chi^2 / (n - 1))}. The standard
 * uncertainty is the internal one times the Birge ratio where that exceeds 1: values that disagree
 * widen the answer. One value: its own uncertainty, Birge ratio 0, probability 1.
 *
 * <p>Source: Birge 1932, Physical Review 40, 207-227; any text. Check: FiguresTest.
 *
 * @param mean weighted mean
 * @param internalUncertainty standard uncertainty from the stated ones alone
 * @param standardUncertainty standard uncertainty, widened where the values disagree
 * @param chiSquare sum of squared normalised deviations
 * @param birgeRatio above 1 where the values scatter more than they state
 * @param probability chance of so great a chi-square if all stated uncertainties hold, 0 to 1
 * @param count number of values
 * @since 0.1
 */
public record WeightedMean(
    double mean,
    double internalUncertainty,
    double standardUncertainty,
    double chiSquare,
    double birgeRatio,
    double probability,
    int count) {

  /**
   * Joins determinations.
   *
   * @param values values, at least one
   * @param uncertainties their standard uncertainties, above 0
   * @return the mean
   * @throws IllegalArgumentException if counts differ, are 0, or an uncertainty is not above 0
   */
  public static WeightedMean of(double[] values, double[] uncertainties) {
    int n = values.length;
    if (n == 0 || uncertainties.length != n) {
      throw new IllegalArgumentException("weighted mean: " + n + " values, " + uncertainties.length
          + " uncertainties; expected one or more, and as many of each");
    }
    double weights = 0;
    double sum = 0;
    for (int i = 0; i < n; i++) {
      double u = uncertainties[i];
      if (!(u > 0) || Double.isInfinite(u) || Double.isNaN(values[i])) {
        throw new IllegalArgumentException("weighted mean: value " + values[i]
            + " with uncertainty " + u + "; expected a number, with an uncertainty above 0");
      }
      weights += 1 / (u * u);
      sum += values[i] / (u * u);
    }
    double mean = sum / weights;
    double chiSquare = 0;
    for (int i = 0; i < n; i++) {
      double z = (values[i] - mean) / uncertainties[i];
      chiSquare += z * z;
    }
    double internal = 1 / Math.sqrt(weights);
    if (n == 1) {
      return new WeightedMean(mean, internal, internal, 0, 0, 1, 1);
    }
    double birge = Math.sqrt(chiSquare / (n - 1));
    double chance = 1 - new ChiSquaredDistribution(n - 1).cumulativeProbability(chiSquare);
    return new WeightedMean(
        mean, internal, internal * Math.max(1, birge), chiSquare, birge, chance, n);
  }
}
