package org.slabnote.velocity;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.slabnote.methods.fit.NoConvergenceException;
import org.slabnote.methods.fit.RobustFigures;

/**
 * One diffraction followed along its envelope ridge and fitted.
 *
 * <p>Starting from a rough curve, peaks of the envelope within a gate about it are taken trace by
 * trace outward from the apex; the curve is fitted to them, the aperture widened, the picks taken
 * anew, until the whole aperture is used. An arm ends where it sinks into the clutter, or where
 * 50 mm of it cannot be followed. A pick far stronger than its inner neighbours belongs to
 * something else and is left out.
 */
final class Diffraction {
  private static final double GATE = 0.45;
  private static final double ABOVE_CLUTTER = 2;
  private static final double STRONGER = 1.5;
  private static final double LOST = 0.05;
  private static final int LEAST_ROUNDS = 5;

  final double[] x;
  final double[] t;
  final double[] u;
  final CurveFit fit;
  final double left;
  final double right;

  /** Median over the picks of envelope over clutter. */
  final double clear;

  private Diffraction(double[] x, double[] t, double[] u, double clear, CurveFit fit) {
    this.clear = clear;
    this.x = x;
    this.t = t;
    this.u = u;
    this.fit = fit;
    double low = 0;
    double high = 0;
    for (int i = 0; i < x.length; i++) {
      if (fit.counts(i)) {
        low = Math.max(low, fit.apex() - x[i]);
        high = Math.max(high, x[i] - fit.apex());
      }
    }
    left = low;
    right = high;
  }

  private record Ridge(List<double[]> picks) {
    double[] column(int k) {
      return picks.stream().mapToDouble(p -> p[k]).toArray();
    }
  }

  /** Follows and fits; empty where the picks do not make a diffraction. */
  static Optional<Diffraction> follow(
      EnvelopeSection s,
      ApexSearch.Apex apex,
      double radius,
      double separation,
      double halfAperture) {
    double[] curve = {apex.velocity(), apex.cover(), apex.place()};
    double reach = Math.min(halfAperture, Math.max(0.07, apex.cover()));
    Diffraction found = null;
    for (int round = 0; round < LEAST_ROUNDS || reach < halfAperture; round++) {
      Ridge ridge = pick(s, curve, radius, separation, reach);
      if (ridge.picks().size() < 7) {
        return Optional.empty();
      }
      double[] x = ridge.column(0);
      double[] t = ridge.column(1);
      double[] u = ridge.column(2);
      CurveFit fit;
      try {
        fit = CurveFit.of(x, t, u, radius, separation, curve);
      } catch (NoConvergenceException e) {
        return Optional.empty();
      }
      if (Math.abs(fit.apex() - apex.place()) > 0.05) {
        return Optional.empty();
      }
      found = new Diffraction(x, t, u, RobustFigures.median(ridge.column(4)), fit);
      curve = new double[] {fit.velocity(), fit.cover(), fit.apex()};
      reach = Math.min(halfAperture, reach * 1.4);
    }
    return Optional.ofNullable(found);
  }

  private static Ridge pick(
      EnvelopeSection s, double[] curve, double radius, double separation, double reach) {
    int centre = nearest(s.distance, curve[2]);
    List<double[]> picks = new ArrayList<>();
    for (int side = -1; side <= 1; side += 2) {
      List<double[]> arm = new ArrayList<>();
      double last = curve[2];
      for (int i = centre + (side < 0 ? -1 : 0); i >= 0 && i < s.traces(); i += side) {
        double place = s.distance[i];
        if (Math.abs(place - curve[2]) > reach || Math.abs(place - last) > LOST) {
          break;
        }
        double expected = org.slabnote.methods.path.TravelTime.cylinderLength(
                place - curve[2], Math.max(curve[1], 0.003), radius, separation)
            / curve[0];
        double[] pick = peakNear(s, i, expected);
        if (pick.length > 0 && pick[3] < STRONGER * inner(arm)) {
          arm.add(pick);
          last = place;
        }
      }
      if (side < 0) {
        java.util.Collections.reverse(arm);
      }
      picks.addAll(arm);
    }
    return new Ridge(picks);
  }

  /** Mean envelope of the five last picks of an arm. */
  private static double inner(List<double[]> arm) {
    if (arm.isEmpty()) {
      return Double.POSITIVE_INFINITY;
    }
    double sum = 0;
    int from = Math.max(0, arm.size() - 5);
    for (int k = from; k < arm.size(); k++) {
      sum += arm.get(k)[3];
    }
    return sum / (arm.size() - from);
  }

  /** Place, time, uncertainty, envelope, envelope over clutter of the best peak within the gate; empty where there is none. */
  private static double[] peakNear(EnvelopeSection s, int i, double expected) {
    double gate = GATE * s.period;
    int from = Math.max(1, (int) Math.ceil(s.sample(expected - gate)));
    int to = Math.min(s.samples - 2, (int) Math.floor(s.sample(expected + gate)));
    double best = 0;
    int at = -1;
    for (int j = from; j <= to; j++) {
      if (s.isPeak(i, j)) {
        double off = (s.time(j) - expected) / gate;
        double worth = s.envelope(i, j) * (1 - 0.7 * off * off);
        if (worth > best) {
          best = worth;
          at = j;
        }
      }
    }
    if (at < 0 || s.envelope(i, at) < ABOVE_CLUTTER * s.clutter(at)) {
      return new double[0];
    }
    double resolution = 0.02 * s.period;
    double byClutter = 0.3 * s.period * s.clutter(at) / s.envelope(i, at);
    return new double[] {
      s.distance[i],
      s.time(s.refined(i, at)),
      Math.sqrt(resolution * resolution + byClutter * byClutter),
      s.envelope(i, at),
      s.envelope(i, at) / s.clutter(at)
    };
  }

  private static int nearest(double[] distance, double place) {
    int best = 0;
    for (int i = 1; i < distance.length; i++) {
      if (Math.abs(distance[i] - place) < Math.abs(distance[best] - place)) {
        best = i;
      }
    }
    return best;
  }

  /** Number of picks that count. */
  int used() {
    int n = 0;
    for (int i = 0; i < x.length; i++) {
      n += fit.counts(i) ? 1 : 0;
    }
    return n;
  }
}
