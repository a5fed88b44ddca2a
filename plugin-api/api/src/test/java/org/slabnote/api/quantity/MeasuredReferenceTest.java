package org.slabnote.api.quantity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;

/** Budgets against JCGM 100:2008 (GUM), annex H; sources in README.md beside the files. */
class MeasuredReferenceTest {

  private static List<String[]> rows(String file) {
    try (InputStream in = MeasuredReferenceTest.class.getResourceAsStream(file)) {
      return new String(in.readAllBytes(), StandardCharsets.US_ASCII)
          .lines()
          .skip(1)
          .map(line -> line.split(",(?=(?:[^\"]*\"[^\"]*\")*[^\"]*$)", -1))
          .toList();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static Map<String, Double> column(String file, int column) {
    Map<String, Double> values = new TreeMap<>();
    for (String[] row : rows(file)) {
      values.put(row[0], row[column].isEmpty() ? Double.NaN : Double.parseDouble(row[column]));
    }
    return values;
  }

  /** H.1: {@code l = l_s + d - l_s (delta_alpha theta + alpha_s delta_theta)}; lengths in nm here. */
  @Test
  void meetsTheEndGauge() {
    Map<String, Double> inputs = column("gum_h1_inputs.csv", 2);
    Map<String, Double> u = column("gum_h1_inputs.csv", 3);
    Map<String, Double> sensitivity = column("gum_h1_inputs.csv", 7);
    Map<String, Double> expected = column("gum_h1_results.csv", 3);
    Measured.Builder<Length> length =
        Measured.about(new Length(inputs.get("l_s") + inputs.get("d_mean")));
    u.forEach((source, standard) -> length.from(source, sensitivity.get(source) * standard));
    Measured<Length> l = length.build();
    assertThat(l.value().value() / 1e6).isCloseTo(expected.get("l"), within(5e-7));
    assertThat(l.u().value()).isCloseTo(expected.get("u_c_first_order"), within(1e-6));
    assertThat(l.budget().get("delta_theta"))
        .isCloseTo(expected.get("contribution_delta_theta"), within(1e-6));
    // alpha_s, theta and Delta have no first-order effect: they are left out
    assertThat(l.budget())
        .containsOnlyKeys(
            "d_mean", "d_random", "d_systematic", "delta_alpha", "delta_theta", "l_s");
    Measured<Length> d = Measured.about(new Length(215))
        .from("d_mean", u.get("d_mean"))
        .from("d_random", u.get("d_random"))
        .from("d_systematic", u.get("d_systematic"))
        .build();
    assertThat(d.u().value()).isCloseTo(expected.get("contribution_d"), within(1e-6));
  }

  /**
   * H.2: R = V/I cos phi, X = V/I sin phi, Z = V/I. Each of the five sets of readings is one source:
   * its signed deviation over sqrt(n (n - 1)) in V, I and phi. What they share then cancels or adds.
   */
  @Test
  void meetsTheCorrelatedReadings() {
    List<String[]> data = rows("gum_h2_data.csv");
    Map<String, Double> expected = column("gum_h2_results.csv", 3);
    double v = mean(data, 1);
    double i = mean(data, 2) / 1000;
    double phi = mean(data, 3);
    Measured<Ratio> volt = readings(data, 1, 1);
    Measured<Ratio> ampere = readings(data, 2, 1e-3);
    Measured<Ratio> radian = readings(data, 3, 1);
    assertThat(volt.u().value()).isCloseTo(expected.get("u_V"), within(1e-11));
    assertThat(ampere.u().value() * 1000).isCloseTo(expected.get("u_I"), within(1e-11));
    assertThat(radian.u().value()).isCloseTo(expected.get("u_phi"), within(1e-12));
    double cos = StrictMath.cos(phi);
    double sin = StrictMath.sin(phi);
    Measured<Ratio> r = Measured.about(new Ratio(v / i * cos))
        .from(volt, cos / i)
        .from(ampere, -v / i / i * cos)
        .from(radian, -v / i * sin)
        .build();
    Measured<Ratio> x = Measured.about(new Ratio(v / i * sin))
        .from(volt, sin / i)
        .from(ampere, -v / i / i * sin)
        .from(radian, v / i * cos)
        .build();
    Measured<Ratio> z = Measured.about(new Ratio(v / i))
        .from(volt, 1 / i)
        .from(ampere, -v / i / i)
        .build();
    assertThat(r.value().value()).isCloseTo(expected.get("R"), within(1e-7));
    assertThat(x.value().value()).isCloseTo(expected.get("X"), within(1e-7));
    assertThat(z.value().value()).isCloseTo(expected.get("Z"), within(1e-7));
    assertThat(r.u().value()).isCloseTo(expected.get("u_R"), within(1e-9));
    assertThat(x.u().value()).isCloseTo(expected.get("u_X"), within(1e-9));
    assertThat(z.u().value()).isCloseTo(expected.get("u_Z"), within(1e-9));
    assertThat(correlation(r, x)).isCloseTo(expected.get("r_R_X"), within(1e-9));
    assertThat(correlation(r, z)).isCloseTo(expected.get("r_R_Z"), within(1e-9));
    assertThat(correlation(x, z)).isCloseTo(expected.get("r_X_Z"), within(1e-9));
  }

  private static double mean(List<String[]> data, int column) {
    double sum = 0;
    for (String[] row : data) {
      sum += Double.parseDouble(row[column]);
    }
    return sum / data.size();
  }

  private static Measured<Ratio> readings(List<String[]> data, int column, double unit) {
    double mean = mean(data, column);
    double scale = unit / Math.sqrt(data.size() * (data.size() - 1.0));
    Measured.Builder<Ratio> builder = Measured.about(new Ratio(mean * unit));
    for (String[] row : data) {
      builder.from("set " + row[0], (Double.parseDouble(row[column]) - mean) * scale);
    }
    return builder.build();
  }

  /** {@code u(a + b)^2 = u(a)^2 + u(b)^2 + 2 r u(a) u(b)}, solved for r. */
  private static double correlation(Measured<Ratio> a, Measured<Ratio> b) {
    double both = a.plus(b).u().value();
    double ua = a.u().value();
    double ub = b.u().value();
    return (both * both - ua * ua - ub * ub) / (2 * ua * ub);
  }
}
