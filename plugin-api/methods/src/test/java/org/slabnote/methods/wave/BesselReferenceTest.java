package org.slabnote.methods.wave;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.slabnote.methods.Csv;

/** Against mpmath at 40 digits; 1e-12 of max(|value|, sqrt(2 / (pi x))). */
class BesselReferenceTest {

  @Test
  void meetsMpmath() {
    Csv table = Csv.read("bessel.csv");
    for (int i = 0; i < table.size(); i++) {
      int n = (int) table.number(i, "order_1");
      double x = table.number(i, "x_1");
      Bessel b = Bessel.of(10, x);
      near(b.j(n), table.number(i, "J_1"), n, x);
      near(b.y(n), table.number(i, "Y_1"), n, x);
      near(b.dj(n), table.number(i, "dJ_dx_1"), n, x);
      near(b.dy(n), table.number(i, "dY_dx_1"), n, x);
    }
  }

  /** J_{n+1} Y_n - J_n Y_{n+1} = 2 / (pi x), Abramowitz and Stegun 9.1.16, on both ways of computing. */
  @Test
  void wronskianHoldsFarBeyondTheTable() {
    for (double x : new double[] {1e-6, 0.3, 7, 29.9, 30, 31, 64, 200, 999.5, 20_000}) {
      for (int top : new int[] {1, 12, 40, 90}) {
        Bessel b = Bessel.of(top, x);
        for (int n = 0; n < top && !Double.isInfinite(b.y(n + 1)); n++) {
          double expected = 2 / (Math.PI * x);
          assertThat(b.j(n + 1) * b.y(n) - b.j(n) * b.y(n + 1))
              .as("order %d, x %s", n, x)
              .isCloseTo(expected, within(1e-11 * expected + (b.j(n) == 0 ? 1 : 0)));
        }
      }
    }
  }

  /** Both ways give one value where they meet. */
  @Test
  void waysAgreeWhereTheyMeet() {
    Bessel low = Bessel.of(31, 30.5); // order above x: backward
    Bessel high = Bessel.of(20, 30.5);
    for (int n = 0; n <= 20; n++) {
      assertThat(high.j(n)).isCloseTo(low.j(n), within(1e-13));
      assertThat(high.y(n)).isCloseTo(low.y(n), within(1e-13));
    }
  }

  @Test
  void refusesWhatItCannot() {
    assertThatThrownBy(() -> Bessel.of(2, 0))
        .hasMessage("Bessel functions: argument 0.0; expected above 0, up to 1e5");
    assertThatThrownBy(() -> Bessel.of(-1, 1))
        .hasMessage("Bessel functions: order -1; expected 0 to 10000");
  }

  private static void near(double value, double expected, int n, double x) {
    double size = Math.max(Math.abs(expected), Math.sqrt(2 / (Math.PI * x)));
    assertThat(value).as("order %d, x %s", n, x).isCloseTo(expected, within(1e-12 * size));
  }
}
