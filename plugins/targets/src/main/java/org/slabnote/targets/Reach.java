package org.slabnote.targets;

import java.util.ArrayList;
import java.util.List;
import org.slabnote.api.Scan;
import org.slabnote.api.Target;
import org.slabnote.api.TargetClass;
import org.slabnote.api.Work;
import org.slabnote.methods.fit.RobustFigures;
import org.slabnote.methods.path.TravelTime;

/**
 * Clutter of one scan against depth, and the levels of the findings it crosses.
 *
 * @param frequency mean frequency, GHz
 * @param end depth at the end of the scan, m
 * @param clutter clutter in steps of {@link #STEP} of depth, from one step on
 * @param levels levels of the findings
 */
record Reach(double frequency, double end, double[] clutter, Levels levels) {
  static final double STEP = 0.005;
  private static final double TIMES_CLUTTER = 2;

  /** Share of a depth's samples that is taken to be clutter only; arms of bars fill the rest. */
  private static final double QUIET = 0.25;

  /** A blind band narrower than this, m, does not end the reach. */
  private static final double LEAST_BLIND = 0.015;

  /** Published practice in reinforced concrete (Kind 2014, DGZfP, BAM), m. */
  private static final double PRACTICE = 0.35;

  static Reach of(Scan s, List<Target> found, double v, Work work) {
    double separation = s.antenna().separation().value();
    EchoField f = EchoField.of(s, s.requireSurface().value().value(), work);
    double path = v * f.end();
    double end = path <= separation ? 0 : TravelTime.depth(f.end(), separation, v);
    double[] clutter = new double[(int) Math.floor(end / STEP)];
    for (int k = 0; k < clutter.length; k++) {
      work.checkCancelled();
      int j = (int) Math.round(f.sample(TravelTime.plane((k + 1) * STEP, separation, v)));
      int half = (int) Math.round(f.period() / f.interval / 2);
      clutter[k] = level(f, j - half, j + half);
    }
    // a mat fills its own depths: as in the search, the clutter there is that around it
    int around = (int) Math.round(StackMap.NEIGHBOUR_PERIODS * v * f.period() / 2 / STEP);
    clutter = StackMap.lowered(clutter, around);
    return new Reach(f.frequency, end, clutter, Levels.of(points(s, f, found, v, work)));
  }

  private static double level(EchoField f, int from, int to) {
    int low = Math.max(0, from);
    int high = Math.min(f.samples - 1, to);
    double[] values = new double[Math.max(0, high - low + 1) * f.traces];
    int n = 0;
    for (int i = 0; i < f.traces; i++) {
      for (int j = low; j <= high; j++) {
        values[n++] = f.envelope(i, j);
      }
    }
    return n == 0
        ? 0
        : RobustFigures.quantile(values, QUIET) / Math.sqrt(-StrictMath.log(1 - QUIET));
  }

  private static List<double[]> points(
      Scan s, EchoField f, List<Target> found, double v, Work work) {
    double separation = s.antenna().separation().value();
    List<double[]> points = new ArrayList<>();
    for (Target t : found) {
      work.checkCancelled();
      if (t.classes().getOrDefault(TargetClass.PLANE, 0.0) >= 0.5
          || t.evidence().stream()
              .noneMatch(e -> e.startsWith(s.pass() + ":" + s.channel() + ":"))) {
        continue;
      }
      Body body = Body.of(t);
      int nearest = 0;
      for (int i = 1; i < f.traces; i++) {
        if (body.planDistance(s.track().at(i)) < body.planDistance(s.track().at(nearest))) {
          nearest = i;
        }
      }
      double depth = Math.max(STEP, body.topAt(s.track().at(nearest)));
      double at = f.sample(TravelTime.plane(depth, separation, v));
      double half = 0.5 * f.period() / f.interval;
      double most = 0;
      for (int j = (int) Math.max(0, at - half); j <= Math.min(f.samples - 1.0, at + half); j++) {
        most = Math.max(most, f.envelope(nearest, j));
      }
      if (most > 0) {
        points.add(new double[] {depth, most, t.diameter().value().value()});
      }
    }
    return points;
  }

  /** Deepest depth down to which the bar stands out without a break, m. */
  double deepest(Levels by, double base, double velocity) {
    if (!by.known()) {
      return 0;
    }
    double most = Math.min(end, PRACTICE);
    most = Double.isNaN(base) ? most : Math.min(most, base);
    double depth = 0;
    for (int k = 0; k < clutter.length; k++) {
      double z = (k + 1) * STEP;
      boolean seen = by.at(z) >= TIMES_CLUTTER * clutter[k];
      boolean near = z < velocity / frequency; // the direct wave's end: told with the pass
      if (z > most || (!seen && !near && z - depth > LEAST_BLIND)) {
        break;
      }
      depth = seen ? z : depth;
    }
    return depth;
  }

  /** How many times the level that is needed at a depth is there. */
  double spare(Levels by, double depth) {
    int k = (int) Math.round(depth / STEP) - 1;
    if (k < 0 || k >= clutter.length || clutter[k] == 0) {
      return 1;
    }
    return by.at(depth) / (TIMES_CLUTTER * clutter[k]);
  }
}
