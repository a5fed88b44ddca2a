package org.slabnote.methods.fit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

class FiguresTest {

  /** By hand: 10 +- 1 and 13 +- 2: weights 1 and 1/4, mean 10.6, chi-square 0.36 + 1.44 = 1.8. */
  @Test
  void weightedMeanByHand() {
    WeightedMean mean = WeightedMean.of(new double[] {10, 13}, new double[] {1, 2});
    assertThat(mean.mean()).isCloseTo(10.6, within(1e-12));
    assertThat(mean.internalUncertainty()).isCloseTo(1 / Math.sqrt(1.25), within(1e-12));
    assertThat(mean.chiSquare()).isCloseTo(1.8, within(1e-12));
    assertThat(mean.birgeRatio()).isCloseTo(Math.sqrt(1.8), within(1e-12));
    assertThat(mean.standardUncertainty()).isCloseTo(Math.sqrt(1.8 / 1.25), within(1e-12));
  }

  /** Chi-square tables: 3.841 with 1 and 9.488 with 4 degrees of freedom have a chance of 5 %. */
  @Test
  void probabilityMeetsTheChiSquareTable() {
    double d = Math.sqrt(2 * 3.841459) / 2;
    assertThat(WeightedMean.of(new double[] {-d, d}, new double[] {1, 1}).probability())
        .isCloseTo(0.05, within(1e-6));
    double e = Math.sqrt(9.487729 / 4);
    assertThat(WeightedMean.of(new double[] {-e, e, 0, -e, e}, new double[] {1, 1, 1, 1, 1})
            .probability())
        .isCloseTo(0.05, within(1e-6));
  }

  @Test
  void agreeingValuesAreNotMadeBetterThanStated() {
    WeightedMean mean = WeightedMean.of(new double[] {5, 5, 5}, new double[] {1, 1, 1});
    assertThat(mean.standardUncertainty()).isEqualTo(mean.internalUncertainty());
    assertThatThrownBy(() -> WeightedMean.of(new double[] {5}, new double[] {0}))
        .hasMessage(
            "weighted mean: value 5.0 with uncertainty 0.0; expected a number, with an uncertainty"
                + " above 0");
  }

  @Test
  void medianAndDeviationByHand() {
    assertThat(RobustFigures.median(3, 1, 2)).isEqualTo(2);
    assertThat(RobustFigures.median(4, 1, 2, 3)).isEqualTo(2.5);
    // moduli from the median 3: 2, 1, 0, 1, 97 with median 1
    assertThat(RobustFigures.deviation(1, 2, 3, 4, 100)).isCloseTo(1.482602, within(1e-6));
    assertThatThrownBy(() -> RobustFigures.median(1, Double.NaN))
        .hasMessage("quantile: a value is NaN; expected numbers");
  }

  /** Moments of the normal distribution, 4 standard errors; and one committed value. */
  @Test
  void seededNumbersAreNormalAndRepeat() {
    SeededNormal a = new SeededNormal(42);
    SeededNormal b = new SeededNormal(42);
    int n = 100_000;
    double sum = 0;
    double squares = 0;
    double fourth = 0;
    for (int i = 0; i < n; i++) {
      double x = a.next();
      assertThat(b.next()).isEqualTo(x);
      sum += x;
      squares += x * x;
      fourth += x * x * x * x;
    }
    assertThat(sum / n).isCloseTo(0, within(4 / Math.sqrt(n)));
    assertThat(squares / n).isCloseTo(1, within(4 * Math.sqrt(2.0 / n)));
    assertThat(fourth / n).isCloseTo(3, within(4 * Math.sqrt(96.0 / n)));
  }
}
