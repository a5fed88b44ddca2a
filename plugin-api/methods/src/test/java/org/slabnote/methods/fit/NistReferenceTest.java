package org.slabnote.methods.fit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.slabnote.methods.Csv;

/**
 * NIST Statistical Reference Datasets, nonlinear regression: certified values and standard deviations,
 * to 6 digits, from both starts, with derivatives by differences.
 */
class NistReferenceTest {
  private static final Csv DATA = Csv.read("nist_strd_data.csv");
  private static final Csv MODELS = Csv.read("nist_strd_models.csv");
  private static final Csv PARAMETERS = Csv.read("nist_strd_parameters.csv");

  private interface Curve {
    double at(double[] b, double x);
  }

  private static final Map<String, Curve> CURVES = Map.of(
      "Misra1a",
      (b, x) -> b[0] * (1 - StrictMath.exp(-b[1] * x)),
      "Hahn1",
      NistReferenceTest::cubics,
      "Thurber",
      NistReferenceTest::cubics,
      "Lanczos3",
      NistReferenceTest::threeExponentials,
      "MGH09",
      (b, x) -> b[0] * (x * x + x * b[1]) / (x * x + x * b[2] + b[3]),
      "Eckerle4",
      (b, x) -> b[0] / b[1] * StrictMath.exp(-0.5 * (x - b[2]) * (x - b[2]) / b[1] / b[1]));

  @ParameterizedTest
  @CsvSource({
    "Misra1a, 1", "Misra1a, 2", "Hahn1, 1", "Hahn1, 2", "Thurber, 1", "Thurber, 2",
    "Lanczos3, 1", "Lanczos3, 2", "MGH09, 1", "MGH09, 2", "Eckerle4, 1", "Eckerle4, 2"
  })
  void meetsTheCertifiedValues(String set, int start) {
    List<Integer> rows = rows(PARAMETERS, set);
    double[] from = rows.stream()
        .mapToDouble(i -> PARAMETERS.number(i, "start" + start + "_data_units"))
        .toArray();
    Fit fit = problem(set).solve(from);
    for (int k = 0; k < from.length; k++) {
      double value = PARAMETERS.number(rows.get(k), "certified_value_data_units");
      double deviation = PARAMETERS.number(rows.get(k), "certified_standard_deviation_data_units");
      assertThat(fit.parameter(k))
          .as("b%d", k + 1)
          .isCloseTo(value, within(1e-6 * Math.abs(value)));
      assertThat(fit.standardDeviation(k))
          .as("deviation of b%d", k + 1)
          .isCloseTo(deviation, within(1e-6 * deviation));
    }
    int model = rows(MODELS, set).get(0);
    double rss = MODELS.number(model, "certified_residual_sum_of_squares_data_units_squared");
    double residual = MODELS.number(model, "certified_residual_standard_deviation_data_units");
    assertThat(fit.sumOfSquares()).isCloseTo(rss, within(1e-6 * rss));
    assertThat(fit.residualStandardDeviation()).isCloseTo(residual, within(1e-6 * residual));
  }

  private static LeastSquares problem(String set) {
    List<Integer> rows = rows(DATA, set);
    double[] x = rows.stream().mapToDouble(i -> DATA.number(i, "x_data_units")).toArray();
    double[] y = rows.stream().mapToDouble(i -> DATA.number(i, "y_data_units")).toArray();
    Curve curve = CURVES.get(set);
    return LeastSquares.of(
        set,
        (b, values) -> {
          for (int i = 0; i < x.length; i++) {
            values[i] = curve.at(b, x[i]);
          }
        },
        y);
  }

  private static List<Integer> rows(Csv table, String set) {
    List<Integer> rows = new ArrayList<>();
    for (int i = 0; i < table.size(); i++) {
      if (table.text(i, "dataset").equals(set)) {
        rows.add(i);
      }
    }
    assertThat(rows).isNotEmpty();
    return rows;
  }

  private static double cubics(double[] b, double x) {
    return (b[0] + x * (b[1] + x * (b[2] + x * b[3]))) / (1 + x * (b[4] + x * (b[5] + x * b[6])));
  }

  private static double threeExponentials(double[] b, double x) {
    return b[0] * StrictMath.exp(-b[1] * x)
        + b[2] * StrictMath.exp(-b[3] * x)
        + b[4] * StrictMath.exp(-b[5] * x);
  }
}
