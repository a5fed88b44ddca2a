package org.slabnote.targets;

import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.slabnote.api.Event;
import org.slabnote.api.Work;

/**
 * Finds lines through sightings of several passes.
 *
 * <p>Every pair of sightings of different passes not too far apart proposes a line, in a fixed order;
 * it gathers the nearest sighting of each pass it crosses at 20 degrees or more, within the gates in
 * plan and depth. Its score counts those sightings, each times the squared sine of its crossing angle
 * (a lattice of square bars has diagonals too), less half of the passes it crosses that show nothing.
 * The best line takes its sightings; then the next is sought. A line needs two sightings; its longest
 * run of passes without a gap says how firm it is.
 */
final class LineSearch {
  /** Proposals may skip this many passes at most. */
  private static final double LONGEST_PAIR = 0.65;

  /** Slope of a proposal in depth, at most: a steep tendon at a support has 36 mm in 0.6 m. */
  private static final double STEEPEST = 0.08;

  private static final double LEAST_SINE = 0.34;
  private static final double MISS = 0.5;

  /** A pass that crosses at a lower sine may well not show the line. */
  private static final double EXPECTED_SINE = 0.6;

  /** So near to a strong sighting, m in plan and depth, a line cannot be told from it. */
  private static final double HIDDEN_PLAN = 0.04;

  private static final double HIDDEN_DEPTH = 0.035;
  private static final double STRONG_DB = 10;

  /** Two sightings' levels may differ by this many decibels, four at the ends of a decade. */
  private static final double LEVEL_DB = 12;

  private final List<PassLine> passes;
  private final double gate;
  private final List<Sighting> free;
  private final List<List<Sighting>> strong = new ArrayList<>();

  LineSearch(List<PassLine> passes, List<Sighting> sightings, double gate) {
    this.passes = passes;
    this.gate = gate;
    this.free = new ArrayList<>(sightings);
    for (int p = 0; p < passes.size(); p++) {
      int pass = p;
      strong.add(sightings.stream()
          .filter(s -> s.pass() == pass && s.best().signalToNoise().value() >= STRONG_DB)
          .toList());
    }
  }

  /** Distance from a straight line, m, up to which a sighting belongs: a third of the gate. */
  double tolerance() {
    return Math.max(0.012, gate / 3);
  }

  private record Proposal(List<Sighting> members, double score) {}

  private static final Proposal NONE = new Proposal(List.of(), Double.NEGATIVE_INFINITY);

  List<TargetLine> find(Work work) {
    List<TargetLine> lines = new ArrayList<>();
    Map<Sighting, Proposal> cached = new IdentityHashMap<>();
    Set<Sighting> taken = Collections.newSetFromMap(new IdentityHashMap<>());
    while (true) {
      work.checkCancelled();
      Proposal best = best(cached, taken, work);
      if (best.members.isEmpty()) {
        return lines;
      }
      TargetLine line = grown(best.members);
      lines.add(line);
      taken.addAll(line.members());
      free.removeIf(taken::contains);
    }
  }

  /** Sightings that no line took. */
  List<Sighting> left() {
    return List.copyOf(free);
  }

  /** The best proposal; those that lost a sighting since are made again, others kept. */
  private Proposal best(Map<Sighting, Proposal> cached, Set<Sighting> taken, Work work) {
    int n = free.size();
    Proposal[] each = new Proposal[n];
    work.forEach(n, i -> {
      Proposal kept = cached.get(free.get(i));
      boolean whole = kept != null && kept.members.stream().noneMatch(taken::contains);
      each[i] = whole && kept != null ? kept : bestFrom(i);
    });
    Proposal best = NONE;
    for (int i = 0; i < n; i++) {
      cached.put(free.get(i), each[i]);
      best = each[i].score > best.score ? each[i] : best;
    }
    return best;
  }

  /**
   * Where along a line, m, a pass would have shown it; NaN where it does not cross the line, crosses it
   * too obliquely, or has something stronger there.
   */
  private double expected(int p, double px, double py, double ux, double uy, double[] depth) {
    PassLine pass = passes.get(p);
    double at = pass.crossing(px, py, ux, uy);
    if (Double.isNaN(at) || pass.sine(ux, uy) < EXPECTED_SINE || !pass.covers(px, py, ux, uy, 0)) {
      return Double.NaN;
    }
    double z = 0;
    for (int k = depth.length - 1; k >= 0; k--) {
      z = z * at + depth[k];
    }
    for (Sighting s : strong.get(p)) {
      if (StrictMath.hypot(s.x() - px - at * ux, s.y() - py - at * uy) < HIDDEN_PLAN
          && Math.abs(s.depth() - z) < HIDDEN_DEPTH) {
        return Double.NaN;
      }
    }
    return at;
  }

  private Proposal bestFrom(int i) {
    Sighting a = free.get(i);
    Proposal best = NONE;
    for (int j = i + 1; j < free.size(); j++) {
      Sighting b = free.get(j);
      if (a.pass() == b.pass()) {
        continue;
      }
      double dx = b.x() - a.x();
      double dy = b.y() - a.y();
      double length = StrictMath.hypot(dx, dy);
      double dz = Math.abs(b.depth() - a.depth());
      if (length < 0.02
          || length > LONGEST_PAIR
          || dz > Math.max(a.depthGate(), STEEPEST * length)
          || !alike(a, b)) {
        continue;
      }
      double ux = dx / length;
      double uy = dy / length;
      if (passes.get(a.pass()).sine(ux, uy) < LEAST_SINE
          || passes.get(b.pass()).sine(ux, uy) < LEAST_SINE) {
        continue;
      }
      double slope = (b.depth() - a.depth()) / length;
      Proposal p = gather(a.x(), a.y(), ux, uy, new double[] {a.depth(), slope});
      if (p != null && p.score > best.score) {
        best = p;
      }
    }
    return best;
  }

  private static boolean alike(Sighting a, Sighting b) {
    double level = 20
        * StrictMath.log10(
            Math.max(1e-30, a.best().amplitude()) / Math.max(1e-30, b.best().amplitude()));
    return !a.best().channel().equals(b.best().channel()) || Math.abs(level) < LEVEL_DB;
  }

  /** Gathers the sightings of a line given by a point, a direction and the depth along it. */
  private @Nullable Proposal gather(double px, double py, double ux, double uy, double[] depth) {
    Sighting[] nearest = new Sighting[passes.size()];
    double[] misfit = new double[passes.size()];
    for (Sighting s : free) {
      double off = Math.abs((s.x() - px) * uy - (s.y() - py) * ux);
      if (off > tolerance()) {
        continue;
      }
      PassLine pass = passes.get(s.pass());
      double sine = pass.sine(ux, uy);
      if (sine < LEAST_SINE) {
        continue;
      }
      double at = (s.x() - px) * ux + (s.y() - py) * uy;
      double z = 0;
      for (int k = depth.length - 1; k >= 0; k--) {
        z = z * at + depth[k];
      }
      double dz = Math.abs(s.depth() - z);
      double m = off / tolerance() + dz / s.depthGate();
      if (dz < s.depthGate() && (nearest[s.pass()] == null || m < misfit[s.pass()])) {
        nearest[s.pass()] = s;
        misfit[s.pass()] = m;
      }
    }
    List<Sighting> members = new ArrayList<>();
    for (Sighting s : nearest) {
      if (s != null) {
        members.add(s);
      }
    }
    return members.size() < 2 ? null : scored(members, px, py, ux, uy, depth, misfit);
  }

  private @Nullable Proposal scored(
      List<Sighting> found,
      double px,
      double py,
      double ux,
      double uy,
      double[] depth,
      double[] misfit) {
    List<Sighting> members = connected(found, px, py, ux, uy, depth);
    if (members.size() < 2) {
      return null;
    }
    double score = 0;
    double from = Double.POSITIVE_INFINITY;
    double to = Double.NEGATIVE_INFINITY;
    boolean[] seen = new boolean[passes.size()];
    for (Sighting s : members) {
      double sine = passes.get(s.pass()).sine(ux, uy);
      score += sine * sine * (1 - 0.2 * misfit[s.pass()]);
      double at = (s.x() - px) * ux + (s.y() - py) * uy;
      from = Math.min(from, at);
      to = Math.max(to, at);
      seen[s.pass()] = true;
    }
    for (int p = 0; p < passes.size(); p++) {
      if (seen[p]) {
        continue;
      }
      double at = expected(p, px, py, ux, uy, depth);
      if (at > from && at < to) {
        score -= MISS * passes.get(p).sine(ux, uy);
      }
    }
    return new Proposal(members, score);
  }

  /** The longest part without a gap wider than two gates or two passes that show nothing. */
  private List<Sighting> connected(
      List<Sighting> found, double px, double py, double ux, double uy, double[] depth) {
    List<Sighting> sorted = new ArrayList<>(found);
    sorted.sort(Comparator.comparingDouble((Sighting s) -> (s.x() - px) * ux + (s.y() - py) * uy)
        .thenComparingInt(Sighting::pass));
    List<Sighting> best = List.of();
    int start = 0;
    for (int i = 1; i <= sorted.size(); i++) {
      boolean gap = i == sorted.size();
      if (!gap) {
        double before = (sorted.get(i - 1).x() - px) * ux + (sorted.get(i - 1).y() - py) * uy;
        double here = (sorted.get(i).x() - px) * ux + (sorted.get(i).y() - py) * uy;
        gap = crossed(px, py, ux, uy, depth, before, here) > 2 || here - before > LONGEST_PAIR;
      }
      if (gap) {
        if (i - start > best.size()) {
          best = sorted.subList(start, i);
        }
        start = i;
      }
    }
    return List.copyOf(best);
  }

  private int crossed(
      double px, double py, double ux, double uy, double[] depth, double from, double to) {
    int n = 0;
    for (int p = 0; p < passes.size(); p++) {
      double at = expected(p, px, py, ux, uy, depth);
      n += at > from + 1e-6 && at < to - 1e-6 ? 1 : 0;
    }
    return n;
  }

  /** Fits the members and gathers again along the fit, with its depth curve, until nothing changes. */
  private TargetLine grown(List<Sighting> members) {
    TargetLine line = TargetLine.fit(members);
    for (int round = 0; round < 4; round++) {
      Proposal again = gather(line.x(), line.y(), line.ux(), line.uy(), line.depth());
      if (again == null
          || again.members.size() < line.members().size()
          || again.members.containsAll(line.members())
              && again.members.size() == line.members().size()) {
        return line;
      }
      line = TargetLine.fit(again.members);
    }
    return line;
  }

  /**
   * How the passes between the ends of a line show it.
   *
   * @param longest longest run of passes that show it one after another
   * @param missing passes that cross it and show nothing
   */
  record Run(int longest, int missing) {}

  Run run(TargetLine line) {
    List<double[]> all = new ArrayList<>();
    for (Sighting s : line.members()) {
      all.add(new double[] {line.along(s.x(), s.y()), 1});
    }
    for (int p = 0; p < passes.size(); p++) {
      int index = p;
      boolean seen = line.members().stream().anyMatch(s -> s.pass() == index);
      double at = expected(p, line.x(), line.y(), line.ux(), line.uy(), line.depth());
      if (!seen && at > line.from() && at < line.to()) {
        all.add(new double[] {at, 0});
      }
    }
    all.sort(Comparator.<double[]>comparingDouble(a -> a[0]).thenComparingDouble(a -> a[1]));
    int run = 0;
    int longest = 0;
    for (double[] a : all) {
      run = a[1] == 1 ? run + 1 : 0;
      longest = Math.max(longest, run);
    }
    return new Run(longest, all.size() - line.members().size());
  }

  /** Median level of the members above clutter, dB. */
  static double level(TargetLine line) {
    double[] values = line.members().stream()
        .mapToDouble(s -> s.best().signalToNoise().value())
        .toArray();
    return org.slabnote.methods.fit.RobustFigures.median(values);
  }

  static double semblance(TargetLine line) {
    double[] values =
        line.members().stream().mapToDouble(s -> s.best().semblance()).toArray();
    return org.slabnote.methods.fit.RobustFigures.median(values);
  }

  static List<Event> events(TargetLine line) {
    return line.members().stream().flatMap(s -> s.events().stream()).toList();
  }
}
