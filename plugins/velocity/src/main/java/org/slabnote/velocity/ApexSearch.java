package org.slabnote.velocity;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.slabnote.api.Work;

/**
 * Search for apexes of diffractions: at every peak of the envelope above clutter, the phase
 * coherence along the curves of velocities for permittivity 3 to 16, {@code |sum a_k / |a_k|| / n}:
 * strong neighbours count no more than weak ones.
 */
final class ApexSearch {
  private static final double LEAST_EPS = 3;
  private static final double MOST_EPS = 16;
  private static final int VELOCITIES = 13;
  private static final double LIGHT = 0.299792458;
  private static final double ABOVE_CLUTTER = 3;
  private static final double COHERENT = 0.6;
  private static final double LEAST_COVER = 0.008;
  private static final double MAIN_LOBE = 0.6;
  private static final double FILTER_LOBE = 0.2;
  private static final int MOST = 14;

  private ApexSearch() {}

  /**
   * A place where a diffraction may have its apex.
   *
   * @param rank coherence times root of the envelope: order of trial
   */
  record Apex(double place, double time, double velocity, double cover, double rank) {}

  static List<Apex> in(EnvelopeSection section, double radius, double separation, Work work) {
    List<List<Apex>> byTrace = new ArrayList<>();
    for (int i = 0; i < section.traces(); i++) {
      byTrace.add(List.of());
    }
    work.forEach(section.traces(), i -> byTrace.set(i, ofTrace(section, i, radius, separation)));
    List<Apex> all = new ArrayList<>();
    byTrace.forEach(all::addAll);
    all.sort(Comparator.comparingDouble((Apex a) -> -a.rank())
        .thenComparingDouble(Apex::place)
        .thenComparingDouble(Apex::time));
    List<Apex> kept = new ArrayList<>();
    for (Apex a : all) {
      boolean near = false;
      for (Apex k : kept) {
        near |= Math.abs(a.place() - k.place()) < 0.03
            && Math.abs(a.time() - k.time()) < 0.75 * section.period;
      }
      if (!near) {
        kept.add(a);
      }
      if (kept.size() == MOST) {
        break;
      }
    }
    return kept;
  }

  private static List<Apex> ofTrace(EnvelopeSection s, int i, double radius, double separation) {
    List<Apex> found = new ArrayList<>();
    for (int j = 1; j + 1 < s.samples; j++) {
      if (s.time(j) <= 0 || !s.isPeak(i, j) || s.envelope(i, j) < ABOVE_CLUTTER * s.clutter(j)) {
        continue;
      }
      if (s.envelope(i, j) < MAIN_LOBE * strongest(s, i, j, 1.5)
          || s.envelope(i, j) < FILTER_LOBE * strongest(s, i, j, 3.5)) {
        continue;
      }
      double time = s.time(s.refined(i, j));
      double best = 0;
      double bestV = 0;
      double bestCover = 0;
      for (int k = 0; k < VELOCITIES; k++) {
        double eps =
            LEAST_EPS * StrictMath.pow(MOST_EPS / LEAST_EPS, k / (double) (VELOCITIES - 1));
        double v = LIGHT / Math.sqrt(eps);
        double square = v * time * v * time - separation * separation;
        if (square < 4 * LEAST_COVER * LEAST_COVER) {
          continue;
        }
        double cover = Math.sqrt(square) / 2;
        double value = coherence(s, i, time, v, cover + radius, separation);
        if (value > best) {
          best = value;
          bestV = v;
          bestCover = cover;
        }
      }
      if (best > COHERENT) {
        found.add(
            new Apex(s.distance[i], time, bestV, bestCover, best * Math.sqrt(s.envelope(i, j))));
      }
    }
    return found;
  }

  /** Greatest envelope within so many periods: pulses and filters ring, and side lobes mislead. */
  private static double strongest(EnvelopeSection s, int i, int j, double periods) {
    int half = (int) Math.round(periods * s.period / s.interval);
    double most = 0;
    for (int k = Math.max(0, j - half); k <= Math.min(s.samples - 1, j + half); k++) {
      most = Math.max(most, s.envelope(i, k));
    }
    return most;
  }

  /** Phase coherence; 0 where an arm is missing. */
  private static double coherence(
      EnvelopeSection s, int apex, double time, double v, double axis, double separation) {
    double reach = Math.max(0.05, Math.min(0.12, 1.2 * axis));
    double half = separation / 2;
    double zero = 2 * Math.sqrt(axis * axis + half * half);
    double re = 0;
    double im = 0;
    int count = 0;
    int left = 0;
    int right = 0;

    int stride = Math.max(1, (int) Math.floor(reach / 12 / Math.max(s.step, 1e-4)));
    for (int side = -1; side <= 1; side += 2) {
      for (int i = apex + (side > 0 ? 0 : -stride); i >= 0 && i < s.traces(); i += side * stride) {
        double x = s.distance[i] - s.distance[apex];
        if (Math.abs(x) > reach) {
          break;
        }
        double zz = axis * axis;
        double path =
            Math.sqrt((x - half) * (x - half) + zz) + Math.sqrt((x + half) * (x + half) + zz);
        // the legs to the axis less those at the apex: the radius hardly counts for a difference
        int j = (int) Math.round(s.sample(time + (path - zero) / v));
        if (j < 0 || j >= s.samples) {
          continue;
        }
        double e = s.envelope(i, j);
        if (e > 0) {
          re += s.real(i, j) / e;
          im += s.imaginary(i, j) / e;
          count++;
          left += side < 0 ? 1 : 0;
          right += side > 0 ? 1 : 0;
        }
      }
    }
    int wanted = (int) Math.floor(reach / (stride * Math.max(s.step, 1e-4)));
    if (left < 0.5 * wanted || right < 0.5 * wanted || count < 5) {
      return 0;
    }
    return Math.sqrt(re * re + im * im) / count;
  }
}
