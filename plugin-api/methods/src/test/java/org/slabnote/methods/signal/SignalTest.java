package org.slabnote.methods.signal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class SignalTest {

  /** By definition of the method: 1 / sqrt(2) at each corner of a causal pass, every order. */
  @ParameterizedTest
  @ValueSource(ints = {1, 2, 3, 4, 5, 8})
  void cornersAreAtHalfPower(int order) {
    double half = Math.sqrt(0.5);
    assertThat(modulus(Butterworth.lowPass(order, 2.0, 0.05), 2.0)).isCloseTo(half, within(1e-9));
    assertThat(modulus(Butterworth.highPass(order, 0.4, 0.05), 0.4)).isCloseTo(half, within(1e-9));
    Butterworth band = Butterworth.bandPass(order, 0.5, 3.0, 0.05);
    assertThat(modulus(band, 0.5)).isCloseTo(half, within(1e-9));
    assertThat(modulus(band, 3.0)).isCloseTo(half, within(1e-9));
    Butterworth stop = Butterworth.bandStop(order, 1.0, 1.2, 0.05);
    assertThat(modulus(stop, 1.0)).isCloseTo(half, within(1e-9));
    assertThat(modulus(stop, 1.2)).isCloseTo(half, within(1e-9));
    assertThat(modulus(stop, 0)).isCloseTo(1, within(1e-9));
    assertThat(modulus(stop, 10)).isCloseTo(1, within(1e-9));
  }

  /** A band so wide that the real pole of an odd order splits into two real ones. */
  @Test
  void wideBandOfOddOrderStaysRight() {
    Butterworth band = Butterworth.bandPass(3, 0.05, 9.0, 0.05);
    assertThat(modulus(band, 0.05)).isCloseTo(Math.sqrt(0.5), within(1e-9));
    assertThat(modulus(band, 9.0)).isCloseTo(Math.sqrt(0.5), within(1e-9));
  }

  @Test
  void constantPassesTheLowPassUnchangedAndVanishesInTheBandPass() {
    double[] constant = new double[100];
    java.util.Arrays.fill(constant, 3.5);
    for (double y : Butterworth.lowPass(3, 1.0, 0.05).zeroPhase(constant)) {
      assertThat(y).isCloseTo(3.5, within(1e-12));
    }
    for (double y : Butterworth.bandPass(4, 0.5, 3.0, 0.05).zeroPhase(constant)) {
      assertThat(y).isCloseTo(0, within(1e-12));
    }
  }

  @Test
  void shortTraceIsRefused() {
    assertThatThrownBy(() -> Butterworth.bandPass(4, 0.5, 3.0, 0.05).zeroPhase(new double[27]))
        .hasMessage(
            "Butterworth filter: trace of 27 samples; expected more than 27, the odd extension at"
                + " each end. Lower the order or use longer traces");
    assertThatThrownBy(() -> Butterworth.lowPass(4, 10.0, 0.05))
        .hasMessage(
            "Butterworth filter: corner = 10.0 GHz; expected above 0 and below Nyquist, 10.0 GHz");
  }

  /** The sampled wavelet's discrete spectrum times the interval is the continuous one. */
  @Test
  void rickerSpectrumIsTheTransformOfTheWavelet() {
    double dt = 0.01;
    double[] w = Wavelets.ricker(1.5, dt, 300);
    for (double f : new double[] {0.2, 1.0, 1.5, 2.2, 4.0}) {
      double sum = 0;
      for (int i = 0; i < w.length; i++) {
        sum += w[i] * StrictMath.cos(2 * Math.PI * f * (i - 300) * dt) * dt;
      }
      assertThat(Wavelets.rickerSpectrum(f, 1.5)).isCloseTo(sum, within(1e-12));
    }
  }

  @Test
  void sineHasUnitEnvelopeAndItsFrequency() {
    double[] x = new double[200];
    for (int i = 0; i < x.length; i++) {
      x[i] = StrictMath.cos(2 * Math.PI * 10 * i / 200.0);
    }
    AnalyticSignal signal = AnalyticSignal.of(x);
    for (double e : signal.envelope()) {
      assertThat(e).isCloseTo(1, within(1e-13));
    }
    for (double f : signal.instantaneousFrequency(0.05)) {
      assertThat(f).isCloseTo(1.0, within(1e-11)); // 10 periods in 10 ns
    }
  }

  private static double modulus(Butterworth filter, double f) {
    double[] h = filter.response(f, 0.05);
    return Math.sqrt(h[0] * h[0] + h[1] * h[1]);
  }
}
