package org.slabnote.methods.fit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.LinkedHashMap;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.slabnote.methods.Csv;

/** Against the worked examples of JCGM 100:2008 (annex H.2) and JCGM 101:2008 (clauses 9.2, 9.4). */
class UncertaintyReferenceTest {

  /** H.2: resistance, reactance, impedance from correlated voltage, current and phase. */
  @Test
  void gumExampleOfCorrelatedInputs() {
    Csv data = Csv.read("gum_h2_data.csv");
    double[][] x = {data.column("V_V"), data.column("I_mA"), data.column("phi_rad")};
    int n = data.size();
    double[] mean = new double[3];
    double[][] s = new double[3][3];
    for (int i = 0; i < 3; i++) {
      for (double value : x[i]) {
        mean[i] += value / n;
      }
    }
    for (int i = 0; i < 3; i++) {
      for (int k = 0; k < 3; k++) {
        for (int j = 0; j < n; j++) {
          s[i][k] += (x[i][j] - mean[i]) * (x[k][j] - mean[k]) / (n * (n - 1));
        }
      }
    }
    double[] u = new double[3];
    double[][] r = new double[3][3];
    for (int i = 0; i < 3; i++) {
      u[i] = Math.sqrt(s[i][i]);
      for (int k = 0; k < 3; k++) {
        r[i][k] = s[i][k] / Math.sqrt(s[i][i] * s[k][k]);
      }
    }
    double[] cr = FirstOrder.sensitivities(v -> v[0] / v[1] * 1000 * StrictMath.cos(v[2]), mean, u);
    double[] cx = FirstOrder.sensitivities(v -> v[0] / v[1] * 1000 * StrictMath.sin(v[2]), mean, u);
    double[] cz = FirstOrder.sensitivities(v -> v[0] / v[1] * 1000, mean, u);
    double ur = Math.sqrt(FirstOrder.covariance(cr, cr, u, r));
    double ux = Math.sqrt(FirstOrder.covariance(cx, cx, u, r));
    double uz = Math.sqrt(FirstOrder.covariance(cz, cz, u, r));
    Map<String, Double> expected = results();
    assertThat(ur).isCloseTo(expected.get("u_R"), within(1e-6));
    assertThat(ux).isCloseTo(expected.get("u_X"), within(1e-6));
    assertThat(uz).isCloseTo(expected.get("u_Z"), within(1e-6));
    assertThat(FirstOrder.covariance(cr, cx, u, r) / (ur * ux))
        .isCloseTo(expected.get("r_R_X"), within(1e-5));
    assertThat(FirstOrder.covariance(cx, cz, u, r) / (ux * uz))
        .isCloseTo(expected.get("r_X_Z"), within(1e-5));
  }

  /** 9.2.3 and 9.2.4: sums of rectangular inputs. 200000 draws: ends to about 1 %. */
  @ParameterizedTest
  @CsvSource({"1, 2.0, 3.8794067", "10, 10.148892, 17.015814"})
  void sumsOfRectangularInputs(double last, double u, double upper) {
    double half = Math.sqrt(3);
    MonteCarlo seen = MonteCarlo.of(5, 200_000, 0.95, chance -> {
      double sum = 0;
      for (int i = 0; i < 4; i++) {
        sum += (i == 3 ? last : 1) * half * (2 * chance.nextUniform() - 1);
      }
      return sum;
    });
    assertThat(seen.mean()).isCloseTo(0, within(0.01 * u));
    assertThat(seen.standardUncertainty()).isCloseTo(u, within(0.01 * u));
    assertThat(seen.high()).isCloseTo(upper, within(0.01 * upper));
    assertThat(seen.low()).isCloseTo(-upper, within(0.01 * upper));
  }

  /** 9.4: X1^2 + X2^2, u = 0.005 each; figures in 1e-6. Exact values of the coverage intervals. */
  @ParameterizedTest
  @CsvSource({
    "0, 0, 50, 50, 0, 149.78661",
    "0.01, 0, 150, 111.8034, 0, 366.00529",
    "0.05, 0, 2550, 502.49378, 1593.5697, 3548.5699",
    "0, 0.9, 50, 67.26812, 0, 185.05646",
    "0.01, 0.9, 150, 120.51971, 12.651556, 397.47878",
    "0.05, 0.9, 2550, 504.50471, 1624.4186, 3554.6825"
  })
  void sumOfSquares(double mean, double r, double y, double u, double low, double high) {
    double v = 0.005 * 0.005;
    CorrelatedNormal inputs =
        CorrelatedNormal.of(new double[] {mean, 0}, new double[][] {{v, r * v}, {r * v, v}});
    MonteCarlo seen = MonteCarlo.of(9, 200_000, 0.95, chance -> {
      double[] x = inputs.next(chance);
      return 1e6 * (x[0] * x[0] + x[1] * x[1]);
    });
    assertThat(seen.mean()).isCloseTo(y, within(0.01 * u));
    assertThat(seen.standardUncertainty()).isCloseTo(u, within(0.015 * u));
    assertThat(seen.shortestLow()).isCloseTo(low, within(0.06 * u));
    assertThat(seen.shortestHigh()).isCloseTo(high, within(0.06 * u));
  }

  @Test
  void refusesWhatIsNoDistribution() {
    assertThatThrownBy(() -> CorrelatedNormal.of(new double[2], new double[][] {{1, 2}, {2, 1}}))
        .hasMessage(
            "correlated normal numbers: the matrix is not a covariance; expected a symmetric,"
                + " positive definite one (correlations between -1 and 1)");
    assertThatThrownBy(() -> MonteCarlo.of(1, 100, 0.95, c -> Double.NaN))
        .hasMessage(
            "Monte Carlo: draw 0 gave NaN; expected a number. Draw the inputs within their possible"
                + " range");
  }

  private static Map<String, Double> results() {
    Csv table = Csv.read("gum_h2_results.csv");
    Map<String, Double> values = new LinkedHashMap<>();
    for (int i = 0; i < table.size(); i++) {
      values.put(table.text(i, "result"), table.number(i, "computed_from_data"));
    }
    return values;
  }
}
