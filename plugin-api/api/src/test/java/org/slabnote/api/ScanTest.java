package org.slabnote.api;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.slabnote.api.quantity.Quantities.MHz;
import static org.slabnote.api.quantity.Quantities.deg;
import static org.slabnote.api.quantity.Quantities.m;
import static org.slabnote.api.quantity.Quantities.mm;
import static org.slabnote.api.quantity.Quantities.ns;

import java.util.List;
import java.util.Optional;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.slabnote.api.quantity.Measured;

class ScanTest {

  private static Scan scan(float... samples) {
    return new Scan(
        "E04",
        "1",
        new Antenna(deg(90), deg(90), mm(60), MHz(2000)),
        new TimeAxis(ns(0), ns(0.1), 3),
        Track.between(Point.of(0, 0), Point.of(0.3, 0.4), 2),
        Samples.of(samples),
        Optional.empty(),
        Optional.empty(),
        List.of());
  }

  @Test
  void liesTraceByTrace() {
    Scan scan = scan(1, 2, 3, 4, 5, 6);
    assertThat(scan.traces()).isEqualTo(2);
    assertThat(scan.trace(1)).containsExactly(4, 5, 6);
    assertThat(scan.sample(1, 0)).isEqualTo(4);
    assertThat(scan.toTraces()).isDeepEqualTo(new float[][] {{1, 2, 3}, {4, 5, 6}});
    assertThat(scan.track().length()).isEqualTo(m(0.5));
  }

  @Test
  void givesCopiesOnly() {
    Scan scan = scan(1, 2, 3, 4, 5, 6);
    scan.trace(0)[0] = 9;
    scan.samples().toArray()[0] = 9;
    assertThat(scan).isEqualTo(scan(1, 2, 3, 4, 5, 6));
  }

  @Test
  void refusesAnotherNumberOfSamples() {
    assertThatThrownBy(() -> scan(1, 2, 3, 4))
        .hasMessage("scan E04: 4 samples; expected 2 traces of 3");
  }

  @Test
  void refusesSamplesThatAreNoNumbers() {
    assertThatThrownBy(() -> scan(1, 2, 3, 4, Float.NaN, 6))
        .hasMessage(
            "scan E04, trace 2, sample 2: NaN; expected finite numbers. Export the file again, or"
                + " mend the trace before it is read");
    assertThatThrownBy(() -> scan(Float.NEGATIVE_INFINITY, 2, 3, 4, 5, 6))
        .hasMessageStartingWith("scan E04, trace 1, sample 1: -Infinity;");
  }

  @Test
  void changesTracesAndKeepsTheRest() {
    Scan scan = scan(1, 2, 3, 4, 5, 6).withSurface(Measured.exact(ns(0.1)));
    Scan changed = scan.eachTrace(Work.serial("test"), trace -> {
      trace[0] = 0;
      return trace;
    });
    assertThat(changed).isEqualTo(scan(0, 2, 3, 0, 5, 6).withSurface(Measured.exact(ns(0.1))));
    assertThatThrownBy(() -> scan.eachTrace(Work.serial("test"), trace -> new float[2]))
        .hasMessage("trace 1: 2 samples returned; expected 3");
  }

  @Test
  void demandsItsSurface() {
    assertThatThrownBy(() -> scan(1, 2, 3, 4, 5, 6).requireSurface())
        .hasMessage(
            "scan E04, channel 1: its surface time (time zero) is not known. Determine it from the"
                + " direct wave of the across antenna, or state time_zero_ns in survey.csv");
  }

  @Test
  void countsTimeFromTheFirstSample() {
    TimeAxis axis = new TimeAxis(ns(2), ns(0.5), 5);
    assertThat(axis.end()).isEqualTo(ns(4));
    assertThat(axis.index(ns(3.25))).isEqualTo(2.5);
    assertThat(axis.at(-1)).isEqualTo(ns(1.5));
    assertThatThrownBy(() -> new TimeAxis(ns(0), ns(0), 5))
        .hasMessage(
            "time axis of 5 samples at 0 ns; expected one sample or more at an interval above 0 ns");
  }

  @Test
  void laysATrack() {
    Track track = Track.between(Point.of(1, 2), Point.of(1, 3), 5);
    assertThat(track.at(1)).isEqualTo(Point.of(1, 2.25));
    assertThat(track.direction()).isEqualTo(deg(90));
    assertThat(track.along(m(0.6)).y().value()).isEqualTo(2.6);
    assertThat(track.along(m(7))).isEqualTo(Point.of(1, 3));
    assertThat(Track.between(Point.of(1, 2), Point.of(1, 3), 1).at(0)).isEqualTo(Point.of(1, 2));
  }

  /** 5 degrees count as exact; angles modulo 180. */
  @ParameterizedTest
  @CsvSource({
    "90, 90, ACROSS",
    "-90, 270, ACROSS",
    "86, 94, ACROSS",
    "0, 0, ALONG",
    "180, -3, ALONG",
    "0, 90, CROSSED",
    "45, 135, CROSSED",
    "45, -45, CROSSED",
    "45, 45, OBLIQUE",
    "90, 84, OBLIQUE",
    "6, 0, OBLIQUE"
  })
  void knowsHowTheDipolesLie(double transmitter, double receiver, Orientation orientation) {
    assertThat(Orientation.of(deg(transmitter), deg(receiver))).isEqualTo(orientation);
  }

  @Test
  void refusesImpossibleAntennas() {
    assertThatThrownBy(() -> new Antenna(deg(0), deg(0), mm(-1), MHz(2000)))
        .hasMessage("antenna separation = -0.001 m; expected 0 m to 5 m");
    assertThatThrownBy(() -> new Antenna(deg(0), deg(0), mm(60), MHz(0)))
        .hasMessage("centre frequency = 0 MHz; expected more than 0 MHz");
  }

  @Test
  void stepsAreGivenInOrderOfName() {
    Steps<Scan> steps = Steps.given(new TreeMap<>(
        java.util.Map.of("W02", scan(1, 2, 3, 4, 5, 6), "E01", scan(0, 0, 0, 0, 0, 0))));
    assertThat(steps.names()).containsExactly("E01", "W02");
    assertThatThrownBy(() -> steps.of("E09")).hasMessage("no step for E09; there are E01, W02");
  }
}
