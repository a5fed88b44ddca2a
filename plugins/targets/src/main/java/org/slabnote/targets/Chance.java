package org.slabnote.targets;

import java.util.List;
import org.slabnote.methods.fit.RobustFigures;

/**
 * How many lines unrelated sightings would make by chance.
 *
 * <p>Unrelated are those of no plain line. Of the N within the depth gate of a line, spread over the
 * length of the passes, a pass shows one within the gate in plan with the probability {@code p = r 2
 * gate / length}, r = N over the number of passes. A chain of n passes starts at any of the N, its second
 * is any of the r on the next pass within a third of its length, the rest must fit: {@code N r / 3
 * p^(n-2)} lines of n passes are expected. Even spread along the passes is assumed (common practice, no
 * source).
 */
final class Chance {
  private final List<Sighting> unrelated;
  private final int passes;
  private final double share;

  private Chance(List<Sighting> unrelated, int passes, double share) {
    this.unrelated = unrelated;
    this.passes = passes;
    this.share = share;
  }

  static Chance of(List<PassLine> passes, List<Sighting> unrelated, double gate) {
    double[] lengths =
        passes.stream().mapToDouble(p -> Math.max(0.1, p.to() - p.from())).toArray();
    double length = lengths.length == 0 ? 1 : RobustFigures.median(lengths);
    return new Chance(unrelated, Math.max(1, passes.size()), Math.min(1, 2 * gate / length));
  }

  /** Lines like this one, of n passes, that chance is expected to make in this survey. */
  double lines(TargetLine line, int n) {
    double depth = line.depthAt(line.middle());
    double near = 0;
    for (Sighting s : unrelated) {
      near += Math.abs(s.depth() - depth) <= s.depthGate() ? 1 : 0;
    }
    double perPass = near / passes;
    double expected = near * perPass / 3;
    for (int k = 2; k < n; k++) {
      expected *= Math.min(1, perPass * share);
    }
    return expected;
  }
}
