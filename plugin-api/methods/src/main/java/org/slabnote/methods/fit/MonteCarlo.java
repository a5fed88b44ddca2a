package org.slabnote.methods.fit;

import java.util.Arrays;

/**
 * Distribution of a quantity by drawing its inputs.
 *
 * <p>The coverage interval with equal tails runs between the quantiles (1 -/+ p) / 2; the shortest one is
 * the narrowest that holds the share p of the draws. Where a first-order budget disagrees with these, the
 * model is not linear enough for it. The ends of an interval carry sampling noise: about {@code sqrt(p (1
 * - p) / draws)} in probability.
 *
 * <p>Source: JCGM 101:2008, clauses 5.9 to 7.7. Check: UncertaintyReferenceTest (its clauses 9.2, 9.4).
 *
 * @param mean mean of the draws
 * @param standardUncertainty their standard deviation
 * @param low lower end with equal tails
 * @param high upper end with equal tails
 * @param shortestLow lower end of the shortest interval
 * @param shortestHigh upper end of the shortest interval
 * @param draws number of draws
 * @since 0.1
 */
public record MonteCarlo(
    double mean,
    double standardUncertainty,
    double low,
    double high,
    double shortestLow,
    double shortestHigh,
    int draws) {

  /** One draw of the quantity. */
  @FunctionalInterface
  public interface Draw {
    /**
     * Draws all inputs and computes the quantity.
     *
     * @param chance source of the inputs' chance
     * @return value
     */
    double next(SeededNormal chance);
  }

  /**
   * Draws.
   *
   * @param seed any number; equal seeds give equal results
   * @param draws number of draws, 100 or more; 10^5 for two digits of an interval's ends
   * @param probability share p that the intervals hold, above 0, below 1
   * @param quantity one draw
   * @return distribution
   * @throws IllegalArgumentException if an argument is outside its range or a draw is not finite
   */
  public static MonteCarlo of(long seed, int draws, double probability, Draw quantity) {
    if (draws < 100 || !(probability > 0 && probability < 1)) {
      throw new IllegalArgumentException("Monte Carlo: draws = " + draws + ", probability = "
          + probability + "; expected 100 or more, above 0 and below 1");
    }
    SeededNormal chance = new SeededNormal(seed);
    double[] values = new double[draws];
    double sum = 0;
    for (int i = 0; i < draws; i++) {
      values[i] = quantity.next(chance);
      if (Double.isNaN(values[i]) || Double.isInfinite(values[i])) {
        throw new IllegalArgumentException("Monte Carlo: draw " + i + " gave " + values[i]
            + "; expected a number. Draw the inputs within their possible range");
      }
      sum += values[i];
    }
    double mean = sum / draws;
    double squares = 0;
    for (double value : values) {
      squares += (value - mean) * (value - mean);
    }
    Arrays.sort(values);
    int inside = (int) Math.min(draws - 1, Math.floor(probability * draws + 0.5));
    int from = 0;
    for (int i = 1; i + inside < draws; i++) {
      if (values[i + inside] - values[i] < values[from + inside] - values[from]) {
        from = i;
      }
    }
    return new MonteCarlo(
        mean,
        Math.sqrt(squares / (draws - 1)),
        RobustFigures.quantile(values, (1 - probability) / 2),
        RobustFigures.quantile(values, (1 + probability) / 2),
        values[from],
        values[from + inside],
        draws);
  }
}
