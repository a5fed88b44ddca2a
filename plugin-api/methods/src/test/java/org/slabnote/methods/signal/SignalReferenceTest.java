package org.slabnote.methods.signal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.slabnote.methods.Csv;

/** Against SciPy 1.10.1 (README beside the tables); printed to 11 digits, agreement 1e-9. */
class SignalReferenceTest {
  private static final double DT = 0.02;

  @ParameterizedTest
  @ValueSource(strings = {"signal_even240.csv", "signal_odd201.csv"})
  void envelopeAndPhaseMeetScipy(String file) {
    Csv table = Csv.read(file);
    AnalyticSignal signal = AnalyticSignal.of(table.column("x_1"));
    double[] envelope = signal.envelope();
    double[] phase = signal.phase();
    for (int i = 0; i < table.size(); i++) {
      double expected = table.number(i, "phase_of_x_rad");
      assertThat(envelope[i]).isCloseTo(table.number(i, "envelope_of_x_1"), within(1e-9));
      assertThat(StrictMath.cos(phase[i])).isCloseTo(StrictMath.cos(expected), within(1e-9));
      assertThat(StrictMath.sin(phase[i])).isCloseTo(StrictMath.sin(expected), within(1e-9));
      assertThat(signal.real(i)).isCloseTo(table.number(i, "x_1"), within(1e-13));
    }
  }

  @ParameterizedTest
  @ValueSource(strings = {"signal_even240.csv", "signal_odd201.csv"})
  void filtersMeetScipy(String file) {
    Csv table = Csv.read(file);
    double[] x = table.column("x_1");
    Butterworth band = Butterworth.bandPass(4, 0.5, 3.5, DT);
    check(table, "butterworth_zero_phase_1", band.zeroPhase(x));
    check(table, "butterworth_causal_zero_state_1", band.causal(x));
    HannBandPass hann = new HannBandPass(0.3, 0.7, 3.0, 4.0);
    check(table, "fft_hann_bandpass_1", hann.apply(x, DT));
    double[] taper = Windows.tukey(x.length, 0.1);
    for (int i = 0; i < x.length; i++) {
      x[i] *= taper[i];
    }
    check(table, "fft_hann_bandpass_of_tukey10_1", hann.apply(x, DT));
  }

  @Test
  void responsesMeetScipy() {
    Csv table = Csv.read("butterworth_response.csv");
    for (int i = 0; i < table.size(); i++) {
      Butterworth filter = switch (table.text(i, "filter")) {
        case "bandpass_4_500_3500_MHz" -> Butterworth.bandPass(4, 0.5, 3.5, DT);
        case "lowpass_4_3000_MHz" -> Butterworth.lowPass(4, 3.0, DT);
        case "highpass_4_400_MHz" -> Butterworth.highPass(4, 0.4, DT);
        default -> throw new IllegalStateException(table.text(i, "filter"));
      };
      double[] h = filter.response(table.number(i, "f_MHz") / 1000, DT);
      assertThat(h[0]).isCloseTo(table.number(i, "H_re_1"), within(1e-10));
      assertThat(h[1]).isCloseTo(table.number(i, "H_im_1"), within(1e-10));
    }
  }

  /** Sections of low-pass and high-pass have one order only, so coefficients can be compared too. */
  @Test
  void sectionsMeetScipy() {
    Csv table = Csv.read("butterworth_sos.csv");
    for (int i = 0; i < table.size(); i++) {
      String name = table.text(i, "filter");
      int index = (int) table.number(i, "section");
      if (name.startsWith("bandpass")) {
        continue; // which zeros go with which poles is free there
      }
      Butterworth filter = name.startsWith("lowpass")
          ? Butterworth.lowPass(4, 3.0, DT)
          : Butterworth.highPass(4, 0.4, DT);
      Butterworth.Section section = filter.sections().get(index);
      assertThat(section.a1()).isCloseTo(table.number(i, "a1_1"), within(1e-13));
      assertThat(section.a2()).isCloseTo(table.number(i, "a2_1"), within(1e-13));
    }
  }

  @Test
  void instantaneousFrequencyMeetsScipy() {
    AnalyticSignal signal =
        AnalyticSignal.of(Csv.read("signal_even240.csv").column("dewow_mean51_edge_truncated_1"));
    Csv table = Csv.read("instantaneous_frequency_even240.csv");
    double[] f = signal.instantaneousFrequency(DT);
    for (int i = 0; i < table.size(); i++) {
      // the input column carries 11 digits; differences of phase divided by 2 pi dt keep about 8
      assertThat(1000 * f[(int) table.number(i, "sample_left")])
          .isCloseTo(table.number(i, "f_inst_MHz"), within(1e-5));
    }
  }

  @Test
  void rickerMeetsTheTable() {
    Csv table = Csv.read("ricker.csv");
    for (int i = 0; i < table.size(); i++) {
      double t = table.number(i, "t_ns");
      double slow = table.number(i, "ricker_1500MHz_1");
      double fast = table.number(i, "ricker_2600MHz_1");
      assertThat(Wavelets.ricker(t, 1.5)).isCloseTo(slow, within(1e-12 * Math.abs(slow) + 1e-15));
      assertThat(Wavelets.ricker(t, 2.6)).isCloseTo(fast, within(1e-12 * Math.abs(fast) + 1e-15));
    }
  }

  @Test
  void windowsMeetScipy() {
    Csv table = Csv.read("windows.csv");
    for (int i = 0; i < table.size(); i++) {
      int length = (int) table.number(i, "length");
      int n = (int) table.number(i, "n");
      near(table, i, "hann_symmetric_1", Windows.hann(length)[n]);
      near(table, i, "hann_periodic_1", Windows.hannPeriodic(length)[n]);
      near(table, i, "tukey_0p4_symmetric_1", Windows.tukey(length, 0.4)[n]);
      near(table, i, "blackman_symmetric_1", Windows.blackman(length)[n]);
      near(table, i, "hamming_symmetric_1", Windows.hamming(length)[n]);
    }
  }

  private static void near(Csv table, int row, String column, double value) {
    assertThat(value).as(column).isCloseTo(table.number(row, column), within(1e-14));
  }

  private static void check(Csv table, String column, double[] values) {
    assertThat(values).hasSize(table.size());
    for (int i = 0; i < values.length; i++) {
      assertThat(values[i])
          .as("%s, sample %d", column, i)
          .isCloseTo(table.number(i, column), within(1e-9));
    }
  }
}
