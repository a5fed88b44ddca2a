package org.slabnote.polarization;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.slabnote.api.quantity.Quantities.MHz;
import static org.slabnote.api.quantity.Quantities.deg;
import static org.slabnote.api.quantity.Quantities.m;
import static org.slabnote.api.quantity.Quantities.ns;

import java.io.IOException;
import java.io.InputStream;
import java.nio.ByteBuffer;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.slabnote.api.Antenna;
import org.slabnote.api.Point;
import org.slabnote.api.Samples;
import org.slabnote.api.Scan;
import org.slabnote.api.Step;
import org.slabnote.api.Target;
import org.slabnote.api.TargetClass;
import org.slabnote.api.Targets;
import org.slabnote.api.TimeAxis;
import org.slabnote.api.Track;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Measured;

/** Bar of 16 mm under 60 mm of permittivity 6, by a full-wave solver (README beside the files). */
class FullWaveReferenceTest {
  private static final int TRACES = 61;
  private static final int SAMPLES = 400;

  @Test
  void pairRatioAtTheApexIsThatOfTheIsolatedEcho() throws IOException {
    Target rated = rated(read("S1_across.sgy", 90, false), read("S1_along.sgy", 0, false));
    var ratio = rated.pairRatio().orElseThrow().ratio();
    assertThat(ratio.value().value()).isCloseTo(4.6, within(0.5));
    assertThat(ratio.u().value()).isGreaterThan(1.5); // nobody balanced the pair
    assertThat(rated.pairRatio().get().remark()).contains("not balanced");
  }

  /** The mean of a short pass holds some of the echo; taking it out first must not hurt. */
  @Test
  void aMeanTakenOutBeforeMakesNoDifference() throws IOException {
    Target rated = rated(read("S1_across.sgy", 90, true), read("S1_along.sgy", 0, true));
    assertThat(rated.pairRatio().orElseThrow().ratio().value().value()).isCloseTo(4.6, within(0.5));
  }

  @Test
  void theBarIsCalledMetal() throws IOException {
    Scan across = read("S1_across.sgy", 90, false);
    Target rated = rated(across, read("S1_along.sgy", 0, false));
    Target called = new Classify(
            Step.given(new Targets(List.of(rated))), Fixtures.velocity(5.9), across.antenna())
        .apply(Work.serial("c"))
        .list()
        .get(0);
    assertThat(called.likeliest()).contains(TargetClass.METAL);
    assertThat(called.classes().get(TargetClass.METAL)).isGreaterThan(0.8);
    assertThat(called.alternatives()).contains("pair ratio +4.").contains("tube");
  }

  private static Target rated(Scan across, Scan along) {
    // cover as a scan tells it, not as it is
    return Fixtures.rate(across, along, Fixtures.target("T01", 0.4, 0.062, false), 5.9, false);
  }

  private static Scan read(String file, double dipole, boolean meanOut) throws IOException {
    float[][] traces = new float[TRACES][SAMPLES];
    try (InputStream in = FullWaveReferenceTest.class.getResourceAsStream(file)) {
      assertThat(in).isNotNull();
      ByteBuffer bytes = ByteBuffer.wrap(in.readAllBytes());
      for (int i = 0; i < TRACES; i++) {
        for (int j = 0; j < SAMPLES; j++) {
          traces[i][j] = bytes.getFloat(3600 + i * (240 + 4 * SAMPLES) + 240 + 4 * j);
        }
      }
    }
    for (int j = 0; meanOut && j < SAMPLES; j++) {
      float sum = 0;
      for (float[] trace : traces) {
        sum += trace[j];
      }
      for (float[] trace : traces) {
        trace[j] -= sum / TRACES;
      }
    }
    return new Scan(
        "S1",
        dipole == 90 ? "1" : "2",
        new Antenna(deg(dipole), deg(dipole), m(0.06), MHz(2000)),
        new TimeAxis(ns(0), ns(0.02), SAMPLES),
        Track.between(Point.of(0.1, 0), Point.of(0.7, 0), TRACES),
        Samples.ofTraces(traces),
        Optional.of(Measured.of(ns(0.669), "surface#time zero", ns(0.055))),
        Optional.empty(),
        List.of());
  }
}
