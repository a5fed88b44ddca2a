package org.slabnote.methods.signal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.slabnote.methods.Csv;

class InterpolationTest {

  private interface Way {
    double at(float[] trace, double place);
  }

  /** Worst error on a sine, as the class promises; for linear it is 1 - cos(pi / samples). */
  @Test
  void errorsOnASineAreAsPromised() {
    assertThat(worst(Interpolation::linear, 10))
        .isCloseTo(1 - StrictMath.cos(Math.PI / 10), within(2e-4));
    assertThat(worst(Interpolation::cubic, 10)).isLessThan(0.005);
    assertThat(worst(Interpolation::sinc, 10)).isLessThan(2e-4);
    assertThat(worst(Interpolation::linear, 4)).isLessThan(0.3);
    assertThat(worst(Interpolation::cubic, 4)).isLessThan(0.12);
    assertThat(worst(Interpolation::sinc, 4)).isLessThan(0.002);
  }

  @Test
  void samplesAreMetAndNothingIsOutside() {
    float[] trace = {1, -2, 4, 0.5f};
    for (Way way : new Way[] {Interpolation::linear, Interpolation::cubic, Interpolation::sinc}) {
      for (int i = 0; i < trace.length; i++) {
        assertThat(way.at(trace, i)).isEqualTo(trace[i]);
      }
      assertThat(way.at(trace, -0.001)).isZero();
      assertThat(way.at(trace, 3.001)).isZero();
      assertThat(way.at(trace, Double.NaN)).isZero();
      assertThat(way.at(new float[] {7}, 0)).isEqualTo(7);
    }
  }

  /** SciPy's cubic splines of both ends, through the first 61 samples. */
  @Test
  void splinesMeetScipy() {
    double[] x = new double[61];
    System.arraycopy(Csv.read("signal_even240.csv").column("x_1"), 0, x, 0, 61);
    Csv t = Csv.read("resample_cubic_even240.csv");
    Spline natural = Spline.natural(x);
    Spline free = Spline.notAKnot(x);
    for (int i = 0; i < t.size(); i++) {
      double place = t.number(i, "t_ns") / 0.02;
      assertThat(natural.at(place)).isCloseTo(t.number(i, "natural_spline_1"), within(1e-12));
      assertThat(free.at(place)).isCloseTo(t.number(i, "not_a_knot_spline_1"), within(1e-12));
    }
    assertThatThrownBy(() -> natural.at(60.5)).hasMessage("spline: place = 60.5; expected 0 to 60");
  }

  /** By hand: a cubic is its own not-a-knot spline, from four samples on. */
  @Test
  void aCubicIsMetExactly() {
    for (int n : new int[] {4, 5, 6, 20}) {
      double[] y = new double[n];
      for (int i = 0; i < n; i++) {
        y[i] = 1 - i + 0.5 * i * i - 0.1 * i * i * i;
      }
      double p = n - 1.5;
      assertThat(Spline.notAKnot(y).at(p))
          .isCloseTo(1 - p + 0.5 * p * p - 0.1 * p * p * p, within(1e-11 * n * n * n));
    }
  }

  private static double worst(Way way, double samplesInPeriod) {
    float[] trace = new float[200];
    double[] phases = {0, 0.5, 1.0, 1.5};
    double most = 0;
    for (double phase : phases) {
      for (int i = 0; i < trace.length; i++) {
        trace[i] = (float) StrictMath.sin(2 * Math.PI * i / samplesInPeriod + phase);
      }
      for (double place = 50; place < 150; place += 0.0137) {
        double truth = StrictMath.sin(2 * Math.PI * place / samplesInPeriod + phase);
        most = Math.max(most, Math.abs(way.at(trace, place) - truth));
      }
    }
    return most;
  }
}
