package org.slabnote.demo;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * How findings compare with what is in the slab.
 *
 * <p>A finding is of a truth when it is as near as {@link Tolerance} asks in place, direction and depth.
 * A truth is found when one finding is of it and those that are, together, run along at least half of
 * the part that was scanned; a point, seen on one pass, counts by itself. Where several findings are of
 * one truth, the firmest and longest stands for it: never the one whose depth happens to fit best.
 * A finding that is of nothing is false. A plane is compared by depth alone.
 *
 * @param matches a line for each truth that was found
 * @param missed truths that were not
 * @param mistaken findings that are of nothing
 */
record Score(List<Match> matches, List<Truth> missed, List<Found> mistaken) {

  /**
   * How near is near.
   *
   * @param across metres between the middle of the finding and the line of the truth
   * @param degrees between both directions
   * @param depth metres between both depths
   * @param orStated whether a finding whose stated uncertainty is wider may be off by as much as that
   */
  record Tolerance(double across, double degrees, double depth, boolean orStated) {}

  /**
   * A truth and the finding that stands for it.
   *
   * @param truth the truth
   * @param found the finding
   * @param share share of the scanned part of the truth that findings run along; 1 for a point
   */
  record Match(Truth truth, Found found, double share) {
    /** Depth as found less depth as it is, metres. */
    double depthError() {
      return found.depth() - truth.depth();
    }

    /** Whether the stated interval holds the true depth. */
    boolean covered() {
      return Math.abs(depthError()) <= found.u95();
    }
  }

  /** Compares. */
  static Score of(List<Truth> truths, List<Found> findings, Tolerance tolerance) {
    List<Match> matches = new ArrayList<>();
    List<Truth> missed = new ArrayList<>();
    for (Truth truth : truths) {
      List<Found> own =
          findings.stream().filter(found -> near(truth, found, tolerance)).toList();
      double share = share(truth, own);
      Optional<Found> best = own.stream().max(firmness());
      if (best.isPresent() && share >= 0.5) {
        matches.add(new Match(truth, best.get(), share));
      } else if (truth.expected()) {
        missed.add(truth);
      }
    }
    List<Found> other = findings.stream()
        .filter(found -> truths.stream().noneMatch(truth -> near(truth, found, tolerance)))
        .toList();
    return new Score(matches, missed, other);
  }

  private static Comparator<Found> firmness() {
    return Comparator.comparing((Found found) -> found.probable())
        .thenComparing(found -> found.line().length())
        .thenComparing(Found::name, Comparator.reverseOrder());
  }

  private static boolean near(Truth truth, Found found, Tolerance tolerance) {
    double most =
        tolerance.orStated() ? Math.max(tolerance.depth(), found.u95()) : tolerance.depth();
    if (Math.abs(found.depth() - truth.depth()) > most) {
      return false;
    }
    if (truth.isPlane() || found.kind().equals("plane")) {
      return truth.isPlane() && found.kind().equals("plane");
    }
    double middle = truth
        .line()
        .along(
            (found.line().x1() + found.line().x2()) / 2,
            (found.line().y1() + found.line().y2()) / 2);
    double slack = tolerance.across() / truth.line().length();
    return middle >= -slack
        && middle <= 1 + slack
        && truth.line().distance(found.line()) <= tolerance.across()
        && (found.line().isPoint() || truth.line().angle(found.line()) <= tolerance.degrees());
  }

  /** Share of the truth that the findings run along, each piece counted once. */
  private static double share(Truth truth, List<Found> findings) {
    if (truth.isPlane() || findings.stream().anyMatch(found -> found.line().isPoint())) {
      return findings.isEmpty() ? 0 : 1;
    }
    int steps = 200;
    int run = 0;
    for (int i = 0; i < steps; i++) {
      double at = (i + 0.5) / steps;
      run += findings.stream().anyMatch(found -> runsAlong(truth.line(), found.line(), at)) ? 1 : 0;
    }
    return (double) run / steps;
  }

  private static boolean runsAlong(Segment truth, Segment found, double at) {
    double one = truth.along(found.x1(), found.y1());
    double two = truth.along(found.x2(), found.y2());
    return at >= Math.min(one, two) && at <= Math.max(one, two);
  }

  /** How many of the truths that must be found were. */
  int expectedFound() {
    return (int) matches.stream().filter(match -> match.truth().expected()).count();
  }

  /** Share of the truths that must be found that were; 1 where there is none. */
  double recall() {
    int there = expectedFound() + missed.size();
    return there == 0 ? 1 : (double) expectedFound() / there;
  }

  /** Share of the found ones whose stated interval holds the true depth; 1 where none was found. */
  double coverage() {
    long covered = matches.stream().filter(Match::covered).count();
    return matches.isEmpty() ? 1 : (double) covered / matches.size();
  }

  /** Findings that are of nothing and yet stated as probable. */
  List<Found> falseProbable() {
    return mistaken.stream().filter(Found::probable).toList();
  }

  @Override
  public String toString() {
    StringBuilder out = new StringBuilder();
    for (Match match : matches) {
      out.append(String.format(
          Locale.ROOT,
          "found  %-14s %s %s: depth %.1f mm, is %.1f mm, U95 %.1f mm%s, along %.0f %%%n",
          match.truth().name(),
          match.found().name(),
          match.found().status(),
          1e3 * match.found().depth(),
          1e3 * match.truth().depth(),
          1e3 * match.found().u95(),
          match.covered() ? "" : " (NOT COVERED)",
          100 * match.share()));
    }
    missed.forEach(truth -> out.append("MISSED ").append(truth).append('\n'));
    mistaken.forEach(found -> out.append("false  ").append(found).append('\n'));
    return out.toString();
  }
}
