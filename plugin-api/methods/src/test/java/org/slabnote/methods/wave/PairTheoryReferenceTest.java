package org.slabnote.methods.wave;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.slabnote.methods.Csv;

/**
 * Against bistatic_pair_ratio.csv, a separate program's pulses.
 *
 * <p>That program transformed 8192 samples of 5 ps, so its echoes repeat after 40.96 ns, and took the
 * phase at the sample nearest to each peak (found by comparing: the phases agree to 0.02 degrees at
 * those samples, and to 6 degrees only at the peaks themselves). The table is met under its own terms
 * ten times closer than its suggested 0.01 dB and 0.001 ns; the default terms follow below.
 */
class PairTheoryReferenceTest {
  private static final double PERIOD = 40.96;
  private static final double SAMPLE = 0.005;
  private final Csv table = Csv.read("bistatic_pair_ratio.csv");

  @Test
  void pulsesMeetTheTableUnderItsTerms() {
    for (int i = 0; i < table.size(); i++) {
      double peak = table.number(i, "source_peak_MHz") / 1000;
      double[] frequencies = new double[(int) (4.5 * peak * PERIOD)];
      for (int k = 0; k < frequencies.length; k++) {
        frequencies[k] = (k + 1) / PERIOD;
      }
      PairSpectrum spectrum = CylinderEcho.of(
              CylinderReferenceTest.target(table, i), table.number(i, "eps_host_1"), frequencies)
          .at(
              table.number(i, "separation_m"),
              table.number(i, "cover_m"),
              table.number(i, "offset_m"));
      PairTheory.Pulse pulse = PairTheory.ricker(peak);
      PairTheory seen = PairTheory.of(spectrum, pulse);
      check(i, seen, 0.001, 1e-4);
      double[][] received = PairTheory.received(spectrum, pulse);
      double phase = PairTheory.phase(
          PairTheory.analytic(received[0], frequencies[0], onSample(seen.acrossTime())),
          PairTheory.analytic(received[1], frequencies[0], onSample(seen.alongTime())));
      double off = StrictMath.toDegrees(phase) - table.number(i, "along_minus_across_phase_deg");
      assertThat(Math.IEEEremainder(off, 360)).as("row %d", i).isCloseTo(0, within(0.02));
    }
  }

  /** 0.01 dB, 0.001 ns for what does not ring beyond 40 ns, by the frequencies chosen for the caller. */
  @Test
  void pulsesMeetTheTableByDefault() {
    for (int i = 0; i < table.size(); i++) {
      if (table.text(i, "eps_target_1").equals("80")) {
        continue; // the table's water rows hold their own ringing of 41 ns before
      }
      check(i, ofRicker(i), 0.001, 1e-4);
    }
  }

  /** Water: the chosen frequencies against four times as many. */
  @Test
  void ringingTargetsAreGivenRoom() {
    CylinderTarget water = CylinderTarget.dielectric(0.01, 80);
    double[] frequencies = PairTheory.frequenciesFor(water, 6, 2.5);
    double[] finer = new double[4 * frequencies.length];
    for (int k = 0; k < finer.length; k++) {
      finer[k] = (k + 1) * frequencies[0] / 4;
    }
    for (double cover : new double[] {0.03, 0.06, 0.2}) {
      PairTheory seen = PairTheory.ofRicker(water, 6, 0.06, cover, 0, 2.5);
      PairTheory better = PairTheory.of(
          CylinderEcho.of(water, 6, finer).at(0.06, cover, 0), PairTheory.ricker(2.5));
      assertThat(seen.ratio()).isCloseTo(better.ratio(), within(0.02));
      assertThat(seen.acrossTime()).isCloseTo(better.acrossTime(), within(0.001));
    }
  }

  private PairTheory ofRicker(int i) {
    return PairTheory.ofRicker(
        CylinderReferenceTest.target(table, i),
        table.number(i, "eps_host_1"),
        table.number(i, "separation_m"),
        table.number(i, "cover_m"),
        table.number(i, "offset_m"),
        table.number(i, "source_peak_MHz") / 1000);
  }

  private void check(int i, PairTheory seen, double decibels, double nanoseconds) {
    assertThat(seen.ratio())
        .as("row %d", i)
        .isCloseTo(table.number(i, "pair_ratio_dB"), within(decibels));
    assertThat(seen.acrossTime())
        .as("row %d", i)
        .isCloseTo(table.number(i, "across_envelope_peak_ns"), within(nanoseconds));
    assertThat(seen.alongTime())
        .as("row %d", i)
        .isCloseTo(table.number(i, "along_envelope_peak_ns"), within(nanoseconds));
  }

  private static double onSample(double time) {
    return StrictMath.rint(time / SAMPLE) * SAMPLE;
  }
}
