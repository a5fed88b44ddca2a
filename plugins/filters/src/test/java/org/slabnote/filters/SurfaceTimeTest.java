package org.slabnote.filters;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.slabnote.api.quantity.Quantities.GHz;
import static org.slabnote.api.quantity.Quantities.MHz;
import static org.slabnote.api.quantity.Quantities.mm;
import static org.slabnote.api.quantity.Quantities.ns;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.slabnote.api.Operations;
import org.slabnote.api.Orientation;
import org.slabnote.api.Point;
import org.slabnote.api.Samples;
import org.slabnote.api.Scan;
import org.slabnote.api.Step;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Measured;
import org.slabnote.api.quantity.TimeSpan;
import org.slabnote.testkit.InventedScan;

/** Finding the direct wave under what real scans add to it; invented scans of known time zero. */
class SurfaceTimeTest {

  private static Measured<TimeSpan> surface(Scan scan) {
    return new SurfaceTime(Step.given(scan)).apply(Work.serial("test"));
  }

  private static double time(InventedScan scan) {
    return surface(scan.build()).value().value();
  }

  @Test
  void givesBackWhatTheSurveyStates() {
    Measured<TimeSpan> stated = Measured.of(ns(1.5), "survey", ns(0.01));
    assertThat(surface(FullWave.across().withSurface(stated))).isEqualTo(stated);
  }

  /** Sampling down to 6 samples a period, antennas of 0.9 to 2.6 GHz: within a hundredth of a period. */
  @ParameterizedTest
  @CsvSource({
    "900, 120, 0.1",
    "1500, 60, 0.05",
    "2000, 60, 0.02",
    "2600, 40, 0.05",
    "2600, 40, 0.064"
  })
  void findsTimeZeroBetweenSamples(double centre, double separation, double interval) {
    for (double zero : new double[] {1.2, 1.213, 1.251}) {
      InventedScan scan = InventedScan.bare()
          .antenna(mm(separation), MHz(centre))
          .axis(ns(interval), (int) (8 / interval))
          .zero(ns(zero));
      assertThat(time(scan)).isCloseTo(zero, within(10 / centre));
    }
  }

  /** Noise of a tenth of the direct wave, an offset and a drift as high as it: a twentieth of a period. */
  @Test
  void isNotMisledByOffsetDriftAndNoise() {
    InventedScan scan = InventedScan.ordinary().offset(1).drift(1).noise(0.1, 5);
    assertThat(time(scan.surfaceUnknown())).isCloseTo(0.8, within(0.025));
  }

  /** Three bars 20 mm deep under a quarter of the pass, and a base three times as strong. */
  @Test
  void takesTheFirstStrongArrivalOnly() {
    InventedScan scan = InventedScan.bare()
        .track(Point.of(0, 0), Point.of(1, 0), 101)
        .bar(mm(300), mm(20), mm(10), 0.9)
        .bar(mm(500), mm(20), mm(10), 0.9)
        .bar(mm(700), mm(20), mm(10), 0.9)
        .plane(mm(150), 3);
    assertThat(time(scan)).isCloseTo(0.8, within(0.025));
  }

  @Test
  void deadTracesDoNotCount() {
    Scan scan = InventedScan.bare().noise(0.01, 3).build();
    float[] samples = scan.samples().toArray();
    java.util.Arrays.fill(samples, 0, 10 * scan.axis().count(), 0);
    Measured<TimeSpan> found = surface(scan.withSamples(Samples.of(samples)));
    assertThat(found.value().value()).isCloseTo(0.8, within(0.01));
    assertThat(found.budget().get("test#time zero spread")).isLessThan(0.01);
  }

  /** Traces shifted by -0.1, 0, +0.1 ns in turn: median absolute deviation 0.1, times 1.4826. */
  @Test
  void jitterStandsInTheBudget() {
    Scan scan = InventedScan.bare().build();
    float[] samples = scan.samples().toArray();
    int count = scan.axis().count();
    for (int i = 0; i < scan.traces(); i++) {
      float[] from = scan.trace(i);
      int shift = 5 * (i % 3 - 1);
      for (int j = 10; j < count - 10; j++) {
        samples[i * count + j] = from[j - shift];
      }
    }
    Measured<TimeSpan> found = surface(scan.withSamples(Samples.of(samples)));
    assertThat(found.budget().get("test#time zero spread")).isCloseTo(0.148, within(0.01));
  }

  @Test
  void namesItsSources() {
    assertThat(surface(FullWave.across()).budget())
        .containsOnlyKeys("test#time zero pick", "test#time zero spread");
    Scan along = InventedScan.bare().orientation(Orientation.ALONG).build();
    assertThat(surface(along).budget())
        .containsOnlyKeys("test#time zero pick", "test#time zero of this orientation");
  }

  @Test
  void refusesAScanWithoutItsDirectWave() {
    Scan gone = Operations.apply(
        new BackgroundRemoval(mm(0)), InventedScan.bare().build(), Work.serial("test"));
    assertThatThrownBy(() -> surface(gone))
        .hasMessage(
            "filters.surface-time: scan E01, channel across: its direct wave was removed or reshaped"
                + " by filters.background-removal window = 0 mm. Take the surface time from the scan"
                + " before that step");
  }

  @Test
  void refusesWhatHoldsNoDirectWave() {
    assertThatThrownBy(() -> time(InventedScan.bare().direct(0).noise(1, 3)))
        .hasMessageContaining(
            "filters.surface-time: scan E01, channel across: no direct wave stands out")
        .hasMessageContaining("expected 4 or more. State time_zero_ns in survey.csv");
    assertThatThrownBy(() -> time(InventedScan.bare().direct(0)))
        .hasMessageContaining(
            "no direct wave stands out: the greatest envelope is 0 times its median");
    assertThatThrownBy(() -> time(InventedScan.bare().axis(ns(0.02), 49)))
        .hasMessage(
            "filters.surface-time: scan E01, channel across: 49 samples per trace; expected two"
                + " periods of 2000 MHz or more (50 samples) to hold the direct wave. State"
                + " time_zero_ns in survey.csv");
    assertThatThrownBy(() -> time(InventedScan.bare().axis(ns(0.3), 100).antenna(mm(60), GHz(2))))
        .hasMessage(
            "filters.surface-time: scan E01, channel across: samples 0.3 ns apart; expected two or"
                + " more in a period of 2000 MHz. Check sample_interval_ns and centre_frequency_mhz"
                + " in survey.csv");
    assertThatThrownBy(() -> time(InventedScan.bare().zero(ns(-0.2))))
        .hasMessageContaining("the file begins within its direct wave: the first sample has")
        .hasMessageContaining("State time_zero_ns in survey.csv");
  }
}
