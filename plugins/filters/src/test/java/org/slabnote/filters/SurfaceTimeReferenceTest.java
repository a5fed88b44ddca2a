package org.slabnote.filters;

import static org.assertj.core.api.Assertions.assertThat;
import static org.slabnote.api.quantity.Quantities.MHz;
import static org.slabnote.api.quantity.Quantities.deg;
import static org.slabnote.api.quantity.Quantities.m;
import static org.slabnote.api.quantity.Quantities.ns;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.slabnote.api.Antenna;
import org.slabnote.api.Point;
import org.slabnote.api.Samples;
import org.slabnote.api.Scan;
import org.slabnote.api.Step;
import org.slabnote.api.TimeAxis;
import org.slabnote.api.Track;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Measured;
import org.slabnote.api.quantity.TimeSpan;

/** Surface times against other people's waves; sources in README.md beside the files. */
class SurfaceTimeReferenceTest {

  /**
   * Full-wave solver. The isolated echo's envelope peaks at 1.810 ns over a bar whose straight path
   * is 2 sqrt(60^2 + 30^2) mm at 0.12239 m/ns, 1.096 ns: the surface time that makes its depth right
   * is 0.714 ns, that of the source pulse itself 0.70 ns.
   */
  @Test
  void meetsTheFullWaveSolver() {
    Measured<TimeSpan> found = surface(FullWave.across());
    assertThat(found.value().value()).isBetween(0.714 - 0.05, 0.714 + 0.05);
    assertThat(found.u95().value()).isBetween(0.10, 0.12);
  }

  @Test
  void isHonestAboutTheAlongAntenna() {
    Measured<TimeSpan> found = surface(FullWave.along());
    assertThat(Math.abs(found.value().value() - 0.714)).isLessThan(found.u95().value());
    assertThat(found.u95().value()).isGreaterThan(0.25);
  }

  /**
   * Sommerfeld integral for a pair of line sources over a half-space, 0.5 mm to 10 mm high. The
   * surface time is the one that makes the depth of a thin wire 80 mm below right.
   */
  @Test
  void coversTheSurfaceTimeOverHalfSpaces() {
    Csv cases = Csv.read("half_space_direct_wave.csv");
    int covered = 0;
    for (int i = 0; i < cases.rows().size(); i++) {
      Measured<TimeSpan> found = surface(halfSpace(cases, i));
      double off = found.value().value() - cases.number(i, "surface_ns");
      covered += Math.abs(off) <= found.u95().value() ? 1 : 0;
    }
    assertThat(cases.rows()).hasSize(36);
    assertThat(covered).isGreaterThanOrEqualTo(33); // nine in ten: a real U95
  }

  private static Scan halfSpace(Csv cases, int row) {
    String[] samples = cases.text(row, "trace_1").split(" ");
    float[] trace = new float[samples.length];
    for (int j = 0; j < trace.length; j++) {
      trace[j] = Float.parseFloat(samples[j]);
    }
    return new Scan(
        "H" + row,
        "across",
        new Antenna(
            deg(90),
            deg(90),
            m(cases.number(row, "separation_m")),
            MHz(cases.number(row, "centre_MHz"))),
        new TimeAxis(ns(0), ns(cases.number(row, "dt_ns")), trace.length),
        Track.between(Point.of(0, 0), Point.of(0.1, 0), 3),
        Samples.ofTraces(new float[][] {trace, trace, trace}),
        Optional.empty(),
        Optional.empty(),
        List.of());
  }

  private static Measured<TimeSpan> surface(Scan scan) {
    return new SurfaceTime(Step.given(scan)).apply(Work.serial("test"));
  }
}
