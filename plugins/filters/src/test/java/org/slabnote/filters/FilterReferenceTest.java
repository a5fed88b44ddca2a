package org.slabnote.filters;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.slabnote.api.quantity.Quantities.MHz;
import static org.slabnote.api.quantity.Quantities.ns;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.slabnote.api.Filter;
import org.slabnote.api.Point;
import org.slabnote.api.Samples;
import org.slabnote.api.Scan;
import org.slabnote.api.Work;
import org.slabnote.testkit.InventedScan;

/** Each filter against SciPy's output on the same signal; sources in README.md beside the files. */
class FilterReferenceTest {

  /** Samples are floats: 6e-8 of values up to 2, in and out, and sums over up to 51 of them. */
  private static final float TOLERANCE = 1e-6f;

  @ParameterizedTest
  @ValueSource(strings = {"signal_even240.csv", "signal_odd201.csv"})
  void dewowIsARunningMeanCutAtTheEnds(String file) {
    compare(file, new Dewow(ns(1.0)), "dewow_mean51_edge_truncated_1");
  }

  @ParameterizedTest
  @ValueSource(strings = {"signal_even240.csv", "signal_odd201.csv"})
  void medianDewowIsARunningMedianCutAtTheEnds(String file) {
    compare(file, new MedianDewow(ns(1.0)), "dewow_median51_edge_truncated_1");
  }

  @ParameterizedTest
  @ValueSource(strings = {"signal_even240.csv", "signal_odd201.csv"})
  void envelopeIsTheModulusOfTheAnalyticSignal(String file) {
    compare(file, new Envelope(), "envelope_of_x_1");
  }

  @ParameterizedTest
  @ValueSource(strings = {"signal_even240.csv", "signal_odd201.csv"})
  void bandPassIsAZeroPhaseButterworth(String file) {
    compare(file, new BandPass(MHz(500), MHz(3500)), "butterworth_zero_phase_1");
  }

  private static void compare(String file, Filter<Scan> filter, String column) {
    Csv csv = Csv.read(file);
    float[] x = csv.column("x_1");
    float[] expected = csv.column(column);
    Scan scan = InventedScan.bare()
        .track(Point.of(0, 0), Point.of(0, 0), 1)
        .axis(ns(0.02), x.length)
        .build()
        .withSamples(Samples.of(x));
    float[] found = filter.apply(scan, Work.serial("test")).trace(0);
    assertThat(expected.length).isGreaterThan(200);
    assertThat(found).hasSize(expected.length);
    for (int i = 0; i < expected.length; i++) {
      assertThat(found[i]).as(column + " at sample " + i).isCloseTo(expected[i], within(TOLERANCE));
    }
  }
}
