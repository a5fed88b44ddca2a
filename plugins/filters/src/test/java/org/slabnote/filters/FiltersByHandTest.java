package org.slabnote.filters;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.slabnote.api.quantity.Quantities.GHz;
import static org.slabnote.api.quantity.Quantities.MHz;
import static org.slabnote.api.quantity.Quantities.dB;
import static org.slabnote.api.quantity.Quantities.m;
import static org.slabnote.api.quantity.Quantities.mm;
import static org.slabnote.api.quantity.Quantities.ns;

import org.junit.jupiter.api.Test;
import org.slabnote.api.Filter;
import org.slabnote.api.Operations;
import org.slabnote.api.Point;
import org.slabnote.api.Samples;
import org.slabnote.api.Scan;
import org.slabnote.api.Step;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Measured;
import org.slabnote.filters.Gain.Spreading;
import org.slabnote.testkit.InventedScan;

/** Limits done by hand, and what is refused. */
class FiltersByHandTest {

  /** Traces 0.1 m apart, samples 0.5 ns apart, given trace by trace. */
  private static Scan scan(float[]... traces) {
    return InventedScan.bare()
        .track(Point.of(0, 0), Point.of(0.1 * (traces.length - 1), 0), traces.length)
        .axis(ns(0.5), traces[0].length)
        .build()
        .withSamples(Samples.ofTraces(traces));
  }

  private static float[] filtered(Filter<Scan> filter, Scan scan) {
    return Operations.apply(filter, scan, Work.serial("test")).samples().toArray();
  }

  @Test
  void dewowTakesAConstantToZero() {
    assertThat(filtered(new Dewow(ns(2)), scan(new float[] {3, 3, 3, 3, 3}))).containsOnly(0f);
  }

  /** h = round(1 / (2 0.5)) = 1: means of 2, 3, 2 samples. */
  @Test
  void dewowSubtractsTheMeanOfTheSamplesThatExist() {
    assertThat(filtered(new Dewow(ns(1)), scan(new float[] {3, 0, 6})))
        .containsExactly(1.5f, -3f, 3f);
  }

  /** Medians of {3, 0}, {3, 0, 6, }, {0, 6}: 1.5, 3, 3. */
  @Test
  void medianDewowSubtractsTheMiddle() {
    assertThat(filtered(new MedianDewow(ns(1)), scan(new float[] {3, 0, 6})))
        .containsExactly(1.5f, -3f, 3f);
    assertThat(filtered(new MedianDewow(ns(1)), scan(new float[] {1, 9, 1, 1, 1})))
        .containsExactly(-4f, 8f, 0f, 0f, 0f);
  }

  @Test
  void aWindowOverTheWholeTraceIsNoTrouble() {
    assertThat(filtered(new MedianDewow(ns(50)), scan(new float[] {1, 9, 2})))
        .containsExactly(-1f, 7f, 0f);
    assertThat(filtered(new Dewow(ns(50)), scan(new float[] {1, 9, 2})))
        .containsExactly(-3f, 5f, -2f);
  }

  @Test
  void backgroundOfTheWholePassIsTheMeanTrace() {
    Scan three = scan(new float[] {1, 4}, new float[] {2, 4}, new float[] {6, 4});
    assertThat(filtered(new BackgroundRemoval(m(0)), three))
        .containsExactly(-2f, 0f, -1f, 0f, 3f, 0f);
    assertThat(filtered(new BackgroundRemoval(m(5)), three))
        .containsExactly(-2f, 0f, -1f, 0f, 3f, 0f);
  }

  /** 0.2 m wide: neighbours 0.1 m away count; at the ends there are two. */
  @Test
  void runningBackgroundIsTheMeanOfTheTracesThatExist() {
    Scan four = scan(new float[] {0}, new float[] {3}, new float[] {9}, new float[] {1});
    assertThat(filtered(new BackgroundRemoval(mm(200)), four))
        .usingComparatorWithPrecision(1e-6f)
        .containsExactly(-1.5f, -1f, 9 - 13f / 3, -4f);
  }

  @Test
  void backgroundOfOneTraceIsRefused() {
    assertThatThrownBy(() -> filtered(new BackgroundRemoval(m(0)), scan(new float[] {1, 2})))
        .hasMessage(
            "filters.background-removal: scan E01, channel across: 1 trace; expected 2 or more,"
                + " since a single trace is its own background. Leave this filter out for it");
  }

  @Test
  void bandPassRefusesCornersThatDoNotServe() {
    Scan scan = InventedScan.bare().axis(ns(0.1), 200).build();
    assertThatThrownBy(() -> filtered(new BandPass(MHz(500), GHz(5)), scan))
        .hasMessage(
            "filters.band-pass: scan E01, channel across: high = 5000 MHz is not below the Nyquist"
                + " frequency 5000 MHz of samples 0.1 ns apart. Choose a lower corner; check the"
                + " sample interval in survey.csv");
    assertThatThrownBy(() -> filtered(new BandPass(MHz(900), MHz(900)), scan))
        .hasMessage("filters.band-pass: scan E01, channel across: low = 900 MHz and high = 900 MHz;"
            + " expected low below high");
    assertThatThrownBy(() -> filtered(
            new BandPass(MHz(500), MHz(900)),
            InventedScan.bare().axis(ns(0.1), 27).build()))
        .hasMessage(
            "filters.band-pass: scan E01, channel across: 27 samples per trace; expected more than"
                + " 27, by which both ends are extended. Leave this filter out");
  }

  @Test
  void bandPassTakesOutAnOffset() {
    float[] flat = filtered(
        new BandPass(MHz(500), MHz(4000)),
        InventedScan.bare().direct(0).offset(5).build());
    for (float x : flat) {
      assertThat(x).isCloseTo(0f, within(1e-5f));
    }
  }

  /** One cosine period fits the trace: its envelope is 1 everywhere. */
  @Test
  void envelopeOfACosineIsFlat() {
    assertThat(filtered(new Envelope(), scan(new float[] {1, 0, -1, 0})))
        .usingComparatorWithPrecision(1e-6f)
        .containsExactly(1f, 1f, 1f, 1f);
  }

  /** 2 GHz: P = 0.5 ns. At t = 2 ns, 4 P: 4^1.5 = 8, and 2 dB/ns over 1.5 ns is 3 dB. */
  @Test
  void gainMakesUpForSpreadingAndLoss() {
    Gain gain = new Gain(Spreading.LINE, dB(2), dB(60));
    assertThat(gain.factor(2, 0.5)).isCloseTo(8 * StrictMath.pow(10, 0.15), within(1e-12));
    assertThat(gain.factor(0.5, 0.5)).isEqualTo(1);
    assertThat(gain.factor(-1, 0.5)).isEqualTo(1);
    assertThat(gain.factor(100, 0.5)).isEqualTo(1000);
    assertThat(new Gain(Spreading.NONE, dB(0), dB(60)).factor(7, 0.5)).isEqualTo(1);
  }

  @Test
  void gainStartsAtTheSurface() {
    Scan scan = scan(new float[] {1, 1, 1, 1, 1}).withSurface(Measured.exact(ns(0.5)));
    assertThat(filtered(new Gain(Spreading.PLANE, dB(0), dB(60)), scan))
        .containsExactly(1f, 1f, 1f, 2f, 3f);
  }

  @Test
  void gainNeedsTheSurface() {
    assertThatThrownBy(
            () -> filtered(new Gain(Spreading.PLANE, dB(0), dB(60)), scan(new float[] {1})))
        .hasMessageContaining(
            "scan E01, channel across: its surface time (time zero) is not known");
  }

  @Test
  void aSurfaceTimeOffTheAxisIsRefused() {
    AtSurface late =
        new AtSurface(Step.given(scan(new float[] {1, 2, 3})), Step.given(Measured.exact(ns(1.1))));
    assertThatThrownBy(() -> late.apply(Work.serial("test")))
        .hasMessage(
            "filters.at-surface: scan E01, channel across: surface time = 1.1 ns; the time axis runs"
                + " from 0 ns to 1 ns. Perhaps the surface time belongs to a scan of another start time");
  }

  @Test
  void theEngineSeesWhatWasDone() {
    Scan done =
        Operations.apply(new Dewow(ns(1)), InventedScan.bare().build(), Work.serial("test"));
    assertThat(done.history()).singleElement().hasToString("filters.dewow window = 1 ns");
  }
}
