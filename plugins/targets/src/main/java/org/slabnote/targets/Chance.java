package org.slabnote.targets;

import java.util.List;
import org.slabnote.methods.fit.RobustFigures;

/**
 * How many lines unrelated sightings would make by chance.
 *
 * <p>With r sightings per pass that belong to no long line, spread over the length of a pass and the
 * range of depths, a pass shows one within the gates of a given line with the probability {@code p = r
 * (2 gate / length) (2 depth gate / depths)}. A chain of n passes starts at any of the N sightings, its
 * second is any of the r on the next pass within half its length, the rest must fit: {@code N r / 3
 * p^(n-2)} lines of n passes are expected. Uniform spread is assumed (common practice, no source).
 */
final class Chance {
  private final double unrelated;
  private final double perPass;
  private final double fit;

  private Chance(double unrelated, double perPass, double fit) {
    this.unrelated = unrelated;
    this.perPass = perPass;
    this.fit = fit;
  }

  static Chance of(List<PassLine> passes, List<Sighting> all, int unrelated, double gate) {
    if (all.isEmpty()) {
      return new Chance(0, 0, 0);
    }
    double[] lengths =
        passes.stream().mapToDouble(p -> Math.max(0.1, p.to() - p.from())).toArray();
    double[] depths = all.stream().mapToDouble(Sighting::depth).toArray();
    double[] gates = all.stream().mapToDouble(Sighting::depthGate).toArray();
    double range =
        Math.max(0.05, RobustFigures.quantile(depths, 0.95) - RobustFigures.quantile(depths, 0.05));
    double perPass = (double) unrelated / passes.size();
    double fit = perPass
        * Math.min(1, 2 * gate / RobustFigures.median(lengths))
        * Math.min(1, 2 * RobustFigures.median(gates) / range);
    return new Chance(unrelated, perPass, Math.min(1, fit));
  }

  /** Lines of n passes that chance is expected to make in this survey. */
  double lines(int n) {
    double expected = unrelated * perPass / 3;
    for (int k = 2; k < n; k++) {
      expected *= fit;
    }
    return expected;
  }
}
