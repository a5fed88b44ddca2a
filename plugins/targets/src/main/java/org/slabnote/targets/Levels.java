package org.slabnote.targets;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.slabnote.methods.fit.RobustFigures;

/**
 * Echo levels of findings against depth: {@code A(z) = level (w(0.1 m) / w(z))^1.5 exp(-2 loss (z - 0.1 m))},
 * w the half way between antennas 60 mm apart.
 *
 * @param known whether there are findings to measure by
 * @param level envelope at 0.1 m, in the scan's unit
 * @param loss nepers per metre, one way
 * @param fitted whether the loss comes from the findings
 * @param diameter median assumed diameter, m
 * @param points the findings' depths, m, levels, and diameters, m
 */
record Levels(
    boolean known,
    double level,
    double loss,
    boolean fitted,
    double diameter,
    List<double[]> points) {
  private static final double REFERENCE = 0.1;

  /** 10 dB/m. */
  private static final double USUAL_LOSS = 10 / 8.685889638;

  private static final double LEAST_SPAN = 0.06;
  private static final double MOST_LOSS = 60 / 8.685889638;

  static Levels of(List<double[]> points) {
    if (points.isEmpty()) {
      return new Levels(false, 0, USUAL_LOSS, false, 0.012, points);
    }
    List<double[]> sorted = new ArrayList<>(points);
    sorted.sort(Comparator.<double[]>comparingDouble(p -> p[0]).thenComparingDouble(p -> p[1]));
    double span = sorted.get(sorted.size() - 1)[0] - sorted.get(0)[0];
    List<Double> slopes = new ArrayList<>();
    for (double[] a : sorted) { // Theil and Sen: the median of all slopes
      for (double[] b : sorted) {
        if (b[0] - a[0] > LEAST_SPAN / 2) {
          slopes.add((free(a) - free(b)) / (2 * (b[0] - a[0])));
        }
      }
    }
    boolean fitted = span >= LEAST_SPAN && slopes.size() >= 3;
    double loss = fitted ? Math.max(0, Math.min(MOST_LOSS, median(slopes))) : USUAL_LOSS;
    List<Double> heights = new ArrayList<>();
    List<Double> diameters = new ArrayList<>();
    for (double[] p : sorted) {
      heights.add(free(p) + 2 * loss * (p[0] - REFERENCE));
      diameters.add(p[2]);
    }
    return new Levels(
        true, StrictMath.exp(median(heights)), loss, fitted, median(diameters), points);
  }

  /** Logarithm of a level freed of spreading. */
  private static double free(double[] p) {
    return StrictMath.log(p[1]) + 1.5 * StrictMath.log(way(p[0]) / way(REFERENCE));
  }

  /** Half the way over a depth between antennas 60 mm apart, m. */
  private static double way(double depth) {
    return StrictMath.hypot(depth, 0.03);
  }

  private static double median(List<Double> values) {
    return RobustFigures.median(values.stream().mapToDouble(d -> d).toArray());
  }

  /** Levels of all scans together. */
  static Levels joined(Reach[] reaches) {
    List<double[]> all = new ArrayList<>();
    for (Reach r : reaches) {
      all.addAll(r.levels().points());
    }
    return of(all);
  }

  double at(double depth) {
    return level
        * StrictMath.pow(way(REFERENCE) / way(depth), 1.5)
        * StrictMath.exp(-2 * loss * (depth - REFERENCE));
  }
}
