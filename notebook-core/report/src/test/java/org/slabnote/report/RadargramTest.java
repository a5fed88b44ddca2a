package org.slabnote.report;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.slabnote.api.quantity.Quantities.MHz;
import static org.slabnote.api.quantity.Quantities.deg;
import static org.slabnote.api.quantity.Quantities.mm;
import static org.slabnote.api.quantity.Quantities.ns;
import static org.slabnote.api.quantity.Quantities.permittivity;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.slabnote.api.Antenna;
import org.slabnote.api.Point;
import org.slabnote.api.Samples;
import org.slabnote.api.Scan;
import org.slabnote.api.TimeAxis;
import org.slabnote.api.Track;
import org.slabnote.api.VelocityEstimate;
import org.slabnote.api.quantity.Measured;

class RadargramTest {
  /** Square root of 1/4 is 1/2: a quarter of the greatest amplitude is drawn half as dark. */
  @Test
  void compressesAmplitudesByTheirSquareRoot() {
    Radargram picture = Radargram.of(scan(0, 4, 1, -4));
    assertThat(picture.grey(0, 0)).isEqualTo(128);
    assertThat(picture.grey(0, 1)).isZero();
    assertThat(picture.grey(0, 2)).isEqualTo(64);
    assertThat(picture.grey(0, 3)).isEqualTo(255);
  }

  @Test
  void countsTimeFromTheSurface() {
    Radargram picture = Radargram.of(scan(0, 1, 0, 0));
    assertThat(picture.first()).isEqualTo(-0.5);
    assertThat(picture.last()).isCloseTo(-0.2, within(1e-12));
  }

  /** Table of plane reflections, separation 60 mm, permittivity 8: 100 mm shows at 1.970 ns (computed). */
  @Test
  void putsADepthAtTheTimeOfAPlane() {
    VelocityEstimate v =
        new VelocityEstimate(Measured.exact(permittivity(8)), "stated", "test", List.of());
    assertThat(Radargram.time(0.1, 0.06, v)).isCloseTo(1.970, within(5e-4));
  }

  @Test
  void setsTicksAtRoundNumbers() {
    assertThat(Ticks.between(0, 1.2, 6))
        .containsExactly(0.0, 0.2, 0.4, 0.6000000000000001, 0.8, 1.0, 1.2000000000000002);
    assertThat(Ticks.between(1, 1, 5)).isEmpty();
  }

  private static Scan scan(float... samples) {
    return new Scan(
        "P",
        "1",
        new Antenna(deg(90), deg(90), mm(60), MHz(2000)),
        new TimeAxis(ns(0), ns(0.1), samples.length),
        Track.between(Point.of(0, 0), Point.of(0, 0), 1),
        Samples.of(samples),
        Optional.of(Measured.exact(ns(0.5))),
        Optional.empty(),
        List.of());
  }
}
