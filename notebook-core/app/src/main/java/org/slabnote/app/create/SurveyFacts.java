package org.slabnote.app.create;

import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.SortedMap;
import org.slabnote.api.Cut;
import org.slabnote.api.Orientation;
import org.slabnote.api.Point;
import org.slabnote.api.Survey;
import org.slabnote.api.SurveyRow;

/**
 * What the starter notebook needs to know of a survey, and the settings that follow from it.
 *
 * @param title title of the job
 * @param survey the survey table
 * @param cuts the proposed cuts
 * @param windows length of the recorded time by scan file, ns
 */
record SurveyFacts(String title, Survey survey, List<Cut> cuts, SortedMap<String, Double> windows) {
  /** Passes up to this many are all shown. */
  private static final int FEW = 4;

  private static final int MOST_SHOWN = 10;

  /** A pass farther than this from a cut does not show it, m. */
  private static final double NEAR_M = 0.15;

  /** Velocity for settings only, never for a result: permittivity 7, m/ns. */
  private static final double USUAL_VELOCITY = 0.1133;

  /** Passes that have a scan of this orientation, in the order of the table. */
  List<String> passes(Orientation orientation) {
    Set<String> names = new LinkedHashSet<>();
    for (SurveyRow row : survey.rows()) {
      if (row.antenna().orientation() == orientation) {
        names.add(row.pass());
      }
    }
    return List.copyOf(names);
  }

  List<String> across() {
    return passes(Orientation.ACROSS);
  }

  List<String> along() {
    return passes(Orientation.ALONG);
  }

  /** Passes with both orientations. */
  List<String> both() {
    List<String> both = new ArrayList<>(across());
    both.retainAll(along());
    return both;
  }

  /** Passes with the along antenna only. */
  List<String> alongOnly() {
    List<String> only = new ArrayList<>(along());
    only.removeAll(across());
    return only;
  }

  /** All passes that the notebook reads, in the order of the table. */
  List<String> read() {
    Set<String> names = new LinkedHashSet<>();
    for (SurveyRow row : readRows()) {
      names.add(row.pass());
    }
    return List.copyOf(names);
  }

  /** Rows of the two orientations that the notebook reads. */
  List<SurveyRow> readRows() {
    return survey.rows().stream()
        .filter(row -> row.antenna().orientation() == Orientation.ACROSS
            || row.antenna().orientation() == Orientation.ALONG)
        .toList();
  }

  /** Scans whose dipoles lie otherwise: copied, not read by the starter notebook. */
  int otherScans() {
    return survey.rows().size() - readRows().size();
  }

  private List<SurveyRow> rows() {
    return readRows().isEmpty() ? survey.rows() : readRows();
  }

  /** Least centre frequency, MHz. */
  double lowest() {
    return rows().stream()
        .mapToDouble(row -> row.antenna().centre().value())
        .min()
        .orElseThrow();
  }

  /** Greatest centre frequency, MHz. */
  double highest() {
    return rows().stream()
        .mapToDouble(row -> row.antenna().centre().value())
        .max()
        .orElseThrow();
  }

  /** Window of the running mean: one and a half periods of the lowest centre frequency, ns. */
  double dewow() {
    return clamp(roundedTo(1500 / lowest(), 0.01), 0.1, 50);
  }

  /** Lower corner of the band: a quarter of the lowest centre frequency, MHz. */
  double bandLow() {
    return Math.max(1, Math.round(lowest() / 4));
  }

  /**
   * Upper corner of the band, MHz: two and a half times the highest centre frequency, but below the
   * Nyquist frequency of the coarsest scan.
   */
  double bandHigh() {
    double coarsest =
        rows().stream().mapToDouble(row -> row.interval().value()).max().orElseThrow();
    double nyquist = 500 / coarsest;
    return clamp(Math.floor(Math.min(2.5 * highest(), 0.9 * nyquist)), 10, 20_000);
  }

  /** Whether the sampling is too coarse for the usual upper corner. */
  boolean coarse() {
    return bandHigh() < Math.floor(2.5 * highest());
  }

  /** Depth down to which sections are made, mm: as far as the recorded time reaches, 100 to 1500. */
  double sectionDepth() {
    double shortest = rows().stream()
        .mapToDouble(row -> windows.getOrDefault(row.file(), 8.0))
        .min()
        .orElse(8.0);
    double depth = 1000 * USUAL_VELOCITY / 2 * Math.max(0, shortest - 1000 / lowest());
    return clamp(10 * Math.floor(depth / 10), 100, 1500);
  }

  /** Step of sections in depth, mm: about a twentieth of a wavelength. */
  double sectionStep() {
    double wavelength = 1e6 * USUAL_VELOCITY / highest();
    return clamp(Math.floor(wavelength / 20), 1, 20);
  }

  /** Directions of travel, modulo 180 degrees, in words of 15 degrees; passes by direction. */
  Map<Integer, List<SurveyRow>> byDirection() {
    Map<Integer, List<SurveyRow>> groups = new LinkedHashMap<>();
    Set<String> seen = new LinkedHashSet<>();
    for (SurveyRow row : readRows()) {
      if (seen.add(row.pass())) {
        groups.computeIfAbsent(direction(row), d -> new ArrayList<>()).add(row);
      }
    }
    return groups;
  }

  private static int direction(SurveyRow row) {
    double dx = row.end().x().value() - row.start().x().value();
    double dy = row.end().y().value() - row.start().y().value();
    double degrees = StrictMath.toDegrees(StrictMath.atan2(dy, dx));
    return Math.floorMod((int) Math.round(degrees / 15), 12);
  }

  /** Passes whose radargrams are shown: all of a few; else the first of each direction and the nearest each way to each cut. */
  List<String> shown() {
    if (read().size() <= FEW) {
      return read();
    }
    Set<String> chosen = new LinkedHashSet<>();
    Collection<List<SurveyRow>> groups = byDirection().values();
    for (Cut cut : cuts) {
      for (List<SurveyRow> group : groups) {
        group.stream()
            .min(Comparator.comparingDouble(row -> distance(row, cut)))
            .filter(row -> distance(row, cut) <= NEAR_M)
            .ifPresent(row -> chosen.add(row.pass()));
      }
    }
    for (List<SurveyRow> group : groups) {
      chosen.add(group.get(0).pass());
    }
    List<String> some = chosen.stream().limit(MOST_SHOWN).toList();
    return read().stream().filter(some::contains).toList();
  }

  /** Distance on plan from the middle of a cut to a pass, m. */
  private static double distance(SurveyRow row, Cut cut) {
    double px = (cut.start().x().value() + cut.end().x().value()) / 2;
    double py = (cut.start().y().value() + cut.end().y().value()) / 2;
    Point a = row.start();
    double dx = row.end().x().value() - a.x().value();
    double dy = row.end().y().value() - a.y().value();
    double length2 = dx * dx + dy * dy;
    double along = length2 == 0
        ? 0
        : clamp(((px - a.x().value()) * dx + (py - a.y().value()) * dy) / length2, 0, 1);
    double ex = a.x().value() + along * dx - px;
    double ey = a.y().value() + along * dy - py;
    return Math.sqrt(ex * ex + ey * ey);
  }

  private static double roundedTo(double value, double step) {
    return Math.round(value / step) * step;
  }

  private static double clamp(double value, double from, double to) {
    return Math.max(from, Math.min(to, value));
  }
}
