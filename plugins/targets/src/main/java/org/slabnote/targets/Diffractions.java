package org.slabnote.targets;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.slabnote.api.Work;
import org.slabnote.methods.fit.RobustFigures;

/**
 * Finds diffractions in a field, the strongest first, and takes each out of it before the next.
 *
 * <p>A round sums the whole field, goes through the peaks of the sum in falling order, tests each
 * on the field as it then is, and lifts it out where it passes. Rounds follow until one finds nothing
 * new, so that what lay under arms, pulse tails and the clutter of stronger echoes comes out too.
 */
final class Diffractions {
  private static final int MOST_ROUNDS = 6;
  private static final int MOST_ECHOES = 80;

  /** Least coherence along the curve (common practice, no source). */
  static final double LEAST_SEMBLANCE = 0.30;

  /** A pulse's sides, and what lifting leaves of it, stay below these shares of it. */
  private static final double NEAR_REMAINDER = 0.25;

  private static final double REMAINDER = 0.06;
  private static final double NEAR_PERIODS = 1.0;

  private static final double TAIL_PERIODS = 1.6;

  /** Found at first, before the last fit. */
  private record Draft(Curve curve, double semblance, double amplitude, Echo echo) {}

  /**
   * A diffraction.
   *
   * @param fit last fit, all other echoes taken out
   * @param semblance coherence along the curve, 0 to 1
   * @param amplitude envelope at the apex
   * @param phase phase there, radians
   * @param clutter level of what is left around the apex once all echoes are out
   */
  record Found(ApexFit fit, double semblance, double amplitude, double phase, double clutter) {}

  private final EchoField field;
  private final StackMap map;
  private final double threshold;
  private final List<Draft> drafts = new ArrayList<>();
  private final List<double[]> refused = new ArrayList<>();

  private Diffractions(EchoField field, StackMap map, double falseAlarms) {
    this.field = field;
    this.map = map;
    this.threshold = StrictMath.log(map.independentCells() / falseAlarms);
  }

  /**
   * Finds all diffractions.
   *
   * @param field is used up
   */
  static List<Found> in(
      EchoField field,
      double radius,
      double separation,
      double velocity,
      double falseAlarms,
      Work work) {
    StackMap map = new StackMap(field, radius, separation, velocity);
    if (field.traces < 5 || map.times < 1) {
      return List.of();
    }
    Diffractions search = new Diffractions(field, map, falseAlarms);
    for (int round = 0; round < MOST_ROUNDS; round++) {
      work.progress((double) round / MOST_ROUNDS);
      map.measureFloor(work);
      map.stack(work);
      if (!search.round(work)) {
        break;
      }
    }
    return search.finish(work);
  }

  private boolean round(Work work) {
    boolean any = false;
    for (int[] peak : peaks()) {
      work.checkCancelled();
      if (drafts.size() >= MOST_ECHOES) {
        return false;
      }
      Draft draft = test(peak[0], peak[1]);
      if (draft != null) {
        drafts.add(draft);
        any = true;
      } else {
        refused.add(
            new double[] {map.place(peak[0]), map.curve(peak[0], peak[1]).apexTime()});
      }
    }
    return any;
  }

  /** Local peaks of the sum above the threshold, strongest first, then by place and time. */
  private List<int[]> peaks() {
    List<int[]> list = new ArrayList<>();
    int dp = Math.max(1, (int) Math.round(0.015 / map.placeStep));
    for (int p = 0; p < map.places; p++) {
      for (int t = 0; t < map.times; t++) {
        float value = map.power[p * map.times + t];
        if (value > threshold && highest(p, t, dp, 3, value) && !wasRefused(p, t)) {
          list.add(new int[] {p, t});
        }
      }
    }
    list.sort(Comparator.<int[]>comparingDouble(c -> -map.power[c[0] * map.times + c[1]])
        .thenComparingInt(c -> c[0])
        .thenComparingInt(c -> c[1]));
    return list;
  }

  private boolean highest(int p, int t, int dp, int dt, float value) {
    for (int i = Math.max(0, p - dp); i <= Math.min(map.places - 1, p + dp); i++) {
      for (int j = Math.max(0, t - dt); j <= Math.min(map.times - 1, t + dt); j++) {
        float other = map.power[i * map.times + j];
        boolean before = i < p || (i == p && j < t);
        if (other > value || (other == value && before)) {
          return false;
        }
      }
    }
    return true;
  }

  private boolean wasRefused(int p, int t) {
    double x = map.place(p);
    double time = map.curve(p, t).apexTime();
    for (double[] r : refused) {
      if (Math.abs(r[0] - x) < 0.012 && Math.abs(r[1] - time) < 0.25 * field.period()) {
        return true;
      }
    }
    return false;
  }

  private @Nullable Draft test(int p, int t) {
    Summed best = Summed.refine(field, map, map.curve(p, t));
    if (best.power() < threshold
        || best.semblance() < LEAST_SEMBLANCE
        || !best.twoSided()
        || best.flatPower() > 0.8 * best.power()) {
      return null;
    }
    double amplitude = greatest(best.curve());
    for (Draft d : drafts) {
      if (isTail(best.curve(), amplitude, d.curve, d.amplitude)) {
        return null;
      }
    }
    ApexFit fit = ApexFit.of(field, best.curve());
    if (fit == null || outside(fit.curve()) || isDouble(fit.curve())) {
      return null;
    }
    Curve lifted = fit.curve(); // centred on the envelope, which the best sum need not be
    return new Draft(lifted, best.semblance(), amplitude, Echo.lift(field, lifted));
  }

  /** Greatest envelope within 0.4 periods of the apex. */
  private double greatest(Curve c) {
    int trace = field.nearest(c.apex());
    double at = field.sample(c.apexTime());
    double half = 0.4 * field.period() / field.interval;
    double most = 0;
    for (int j = (int) Math.max(0, at - half); j <= Math.min(field.samples - 1.0, at + half); j++) {
      most = Math.max(most, field.envelope(trace, j));
    }
    return most;
  }

  /**
   * Whether a curve runs along a stronger one, less than 1.6 periods from it, and weakly: then it is
   * the foot of that one's pulse, or what lifting left of it. With the apex at the same place, less
   * than a period away (1.6 before it) and a quarter as strong, it cannot be told from that pulse,
   * whatever its arms.
   */
  private boolean isTail(Curve c, double amplitude, Curve of, double pulse) {
    double apart = Math.abs(c.apexTime() - of.time(c.apex())) / field.period();
    int near = 0;
    for (int k = -4; k <= 4; k++) {
      double x = c.apex() + k * c.aperture() / 5;
      near += Math.abs(c.time(x) - of.time(x)) < TAIL_PERIODS * field.period() ? 1 : 0;
    }
    boolean sameApex = Math.abs(c.apex() - of.apex()) < 0.25 * c.aperture();
    boolean foot = c.apexTime() < of.time(c.apex()) && apart < TAIL_PERIODS;
    return ((apart < NEAR_PERIODS || foot)
            && (near >= 7 || sameApex)
            && amplitude < NEAR_REMAINDER * pulse)
        || (near >= 7 && amplitude < REMAINDER * pulse);
  }

  /** Beyond the pass, or so near the face that the direct wave hides it: above a sixth of a wavelength. */
  private boolean outside(Curve c) {
    double wavelength = c.velocity() / field.frequency;
    return c.apex() < 0 || c.apex() > field.length() || c.cover() < wavelength / 6;
  }

  /** Within an eighth of a wavelength in depth and a quarter along of one found already. */
  private boolean isDouble(Curve c) {
    double wavelength = c.velocity() / field.frequency;
    for (Draft d : drafts) {
      if (Math.abs(d.curve.apex() - c.apex()) < wavelength / 3
          && Math.abs(d.curve.apexTime() - c.apexTime()) < field.period() / 3) {
        return true;
      }
    }
    return false;
  }

  /** Fits each echo again with all the others taken out. */
  private List<Found> finish(Work work) {
    List<Found> list = new ArrayList<>();
    for (Draft d : drafts) {
      work.checkCancelled();
      double clutter = clutter(d.curve);
      d.echo.add(field, 1);
      ApexFit fit = ApexFit.of(field, d.curve);
      if (fit != null && !outside(fit.curve())) {
        double[] apex = Summed.apex(field, fit.curve());
        double semblance = Math.max(d.semblance, Summed.of(field, map, d.curve).semblance());
        list.add(new Found(fit, semblance, apex[0], apex[1], clutter));
      }
      d.echo.add(field, -1);
    }
    list.sort(Comparator.<Found>comparingDouble(f -> f.fit.curve().apex())
        .thenComparingDouble(f -> f.fit.curve().apexTime()));
    return list;
  }

  /** Root mean square of noise with the median envelope of what is left within 0.1 m and 1.5 periods. */
  private double clutter(Curve c) {
    int from = field.firstAt(c.apex() - 0.1);
    int to = field.firstAt(c.apex() + 0.1);
    double at = field.sample(c.apexTime());
    double half = 1.5 * field.period() / field.interval;
    int low = (int) Math.max(0, at - half);
    int high = (int) Math.min(field.samples - 1.0, at + half);
    double[] values = new double[Math.max(0, to - from) * Math.max(0, high - low + 1)];
    int n = 0;
    for (int i = from; i < to; i++) {
      for (int j = low; j <= high; j++) {
        values[n++] = field.envelope(i, j);
      }
    }
    double rms = n == 0 ? 0 : RobustFigures.median(values) / Math.sqrt(StrictMath.log(2));
    return Math.max(rms, map.floor(at) * 0.1);
  }
}
