package org.slabnote.velocity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.slabnote.api.quantity.Quantities.MHz;
import static org.slabnote.api.quantity.Quantities.deg;
import static org.slabnote.api.quantity.Quantities.m;
import static org.slabnote.api.quantity.Quantities.mm;
import static org.slabnote.api.quantity.Quantities.ns;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.slabnote.api.Antenna;
import org.slabnote.api.Pick;
import org.slabnote.api.Picks;
import org.slabnote.api.Point;
import org.slabnote.api.Samples;
import org.slabnote.api.Scan;
import org.slabnote.api.Step;
import org.slabnote.api.TimeAxis;
import org.slabnote.api.Track;
import org.slabnote.api.VelocityEstimate;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Measured;
import org.slabnote.methods.path.TravelTime;

class HyperbolaFitReferenceTest {

  /** Exact times by a bounded minimiser (README beside the file); square crossings. */
  @Test
  void returnsTheVelocityOfExactTimes() throws IOException {
    int curves = 0;
    for (Map.Entry<String, List<double[]>> curve : curves().entrySet()) {
      List<double[]> rows = curve.getValue();
      double[] first = rows.get(0);
      List<Pick> picks = new ArrayList<>();
      for (double[] row : rows) {
        picks.add(new Pick("E01", m(1 + row[0]), ns(0.5 + row[6])));
        if (row[0] != 0) {
          picks.add(new Pick("E01", m(1 - row[0]), ns(0.5 + row[6])));
        }
      }
      if (picks.size() < 5) {
        continue;
      }
      curves++;
      VelocityEstimate fit = fit(picks, first[1], 2 * first[3], 0.5);
      assertThat(fit.velocity().value().value())
          .as(curve.getKey())
          .isCloseTo(
              first[5], within(2e-6 * first[5])); // the table has 14 digits, the start is far
    }
    assertThat(curves).isGreaterThan(1);
  }

  /**
   * Bar of 12.7 mm, s 60 mm, eps 8, picks within 100 mm: a fit without separation or radius (first
   * figure) or without radius (second) is low by this much. Computed by another program.
   */
  @ParameterizedTest
  @CsvSource({"25,6.38,7.13", "50,6.76,7.35", "100,7.24,7.58", "150,7.49,7.70"})
  void simplerModelsAreLowByTheKnownBias(double cover, double neither, double noRadius) {
    List<Pick> picks = exact(cover / 1000, 0.0127, 0.06, 0.10);
    assertThat(fit(picks, 0, 0, 0).permittivity().value().value())
        .isCloseTo(neither, within(0.08)); // the spacing of the table's picks is not stated
    assertThat(fit(picks, 0.06, 0, 0).permittivity().value().value())
        .isCloseTo(noRadius, within(0.08));
    assertThat(fit(picks, 0.06, 0.0127, 0).permittivity().value().value())
        .isCloseTo(8, within(1e-6));
  }

  /** Times too late by 0.05 ns with the full model: eps 8.24, 8.16, 8.12, by the same program. */
  @ParameterizedTest
  @CsvSource({"50,8.24", "100,8.16", "150,8.12"})
  void surfaceTimeCountsWithItsSign(double cover, double eps) {
    List<Pick> picks = exact(cover / 1000, 0.0127, 0.06, 0.10);
    assertThat(fit(picks, 0.06, 0.0127, -0.05).permittivity().value().value())
        .isCloseTo(eps, within(0.04));
    // and so says the budget: a surface time 0.05 ns later raises v
    double perSurface =
        fit(picks, 0.06, 0.0127, 0).velocity().budget().get("surface#time zero") / 0.02;
    double v = 0.299792458 / Math.sqrt(8);
    double expected = (v - 0.299792458 / Math.sqrt(eps)) / 0.05;
    assertThat(perSurface).isCloseTo(expected, within(0.2 * Math.abs(expected)));
  }

  @Test
  void aWrongPickHardlyCounts() {
    List<Pick> picks = new ArrayList<>(exact(0.06, 0.0127, 0.06, 0.15));
    picks.set(4, new Pick("E01", picks.get(4).distance(), picks.get(4).time().plus(ns(0.6))));
    assertThat(fit(picks, 0.06, 0.0127, 0).permittivity().value().value())
        .isCloseTo(8, within(0.02));
  }

  @Test
  void refusesTooFewPicks() {
    List<Pick> picks = exact(0.06, 0.0127, 0.06, 0.15).subList(0, 4);
    assertThatThrownBy(() -> fit(picks, 0.06, 0.0127, 0))
        .hasMessage("velocity.hyperbola-fit: picks P on pass E01: 4 picks; expected 5 or more, "
            + "on both arms of one diffraction. Pick more of the ridge");
  }

  private static List<Pick> exact(double cover, double diameter, double s, double half) {
    List<Pick> picks = new ArrayList<>();
    double v = 0.299792458 / Math.sqrt(8);
    for (int i = -20; i <= 20; i++) {
      double x = half * i / 20;
      picks.add(
          new Pick("E01", m(1 + x), ns(TravelTime.cylinderLength(x, cover, diameter / 2, s) / v)));
    }
    return picks;
  }

  private static VelocityEstimate fit(
      List<Pick> picks, double separation, double diameter, double surface) {
    Scan scan = new Scan(
        "E01",
        "1",
        new Antenna(deg(90), deg(90), m(separation), MHz(1500)),
        new TimeAxis(ns(0), ns(0.05), 1),
        Track.between(Point.of(0, 0), Point.of(2, 0), 2),
        Samples.of(0, 0),
        Optional.of(Measured.of(ns(surface), "surface#time zero", ns(0.02))),
        Optional.empty(),
        List.of());
    return new HyperbolaFit(Step.given(scan), new Picks("P", picks), mm(diameter * 1000))
        .apply(Work.serial("fit"));
  }

  private static TreeMap<String, List<double[]>> curves() throws IOException {
    TreeMap<String, List<double[]>> curves = new TreeMap<>();
    try (BufferedReader in = new BufferedReader(new InputStreamReader(
        Objects.requireNonNull(
            HyperbolaFitReferenceTest.class.getResourceAsStream("bistatic_cylinder_time.csv")),
        StandardCharsets.UTF_8))) {
      in.readLine();
      for (String line = in.readLine(); line != null; line = in.readLine()) {
        String[] cells = line.split(",");
        double[] row = new double[cells.length];
        for (int i = 0; i < row.length; i++) {
          row[i] = Double.parseDouble(cells[i]);
        }
        if (row[4] == 90) {
          String key = "s " + row[1] + ", cover " + row[2] + ", radius " + row[3] + ", v " + row[5];
          curves.computeIfAbsent(key, k -> new ArrayList<>()).add(row);
        }
      }
    }
    return curves;
  }
}
