package org.slabnote.methods.fit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

class LeastSquaresTest {

  /** Points on y = 2 + 3 x: found exactly although no residual is left to judge by. */
  @Test
  void dataOnTheLineGiveTheLine() {
    Fit fit = line(new double[] {2, 5, 8, 11}).solve(0, 0);
    assertThat(fit.parameter(0)).isCloseTo(2, within(1e-12));
    assertThat(fit.parameter(1)).isCloseTo(3, within(1e-12));
    assertThat(fit.standardDeviation(1)).isLessThan(1e-10);
  }

  /**
   * By hand: y = 1, 3, 2 at x = 0, 1, 2: slope 1/2, intercept 3/2, RSS 3/2, one degree of freedom;
   * var(slope) = 1.5 / 2, var(intercept) = 1.5 (1/3 + 1/2), covariance -1.5 / 2.
   */
  @Test
  void lineThroughThreePointsByHand() {
    Fit fit = line(new double[] {1, 3, 2}).solve(0, 0);
    assertThat(fit.parameter(0)).isCloseTo(1.5, within(1e-9));
    assertThat(fit.parameter(1)).isCloseTo(0.5, within(1e-9));
    assertThat(fit.covariance(0, 0)).isCloseTo(1.25, within(1e-9));
    assertThat(fit.covariance(1, 1)).isCloseTo(0.75, within(1e-9));
    assertThat(fit.covariance(0, 1)).isCloseTo(-0.75, within(1e-9));
    assertThat(fit.degreesOfFreedom()).isEqualTo(1);
  }

  /** By hand: stated uncertainties of 2 for a mean of four values: 2 / sqrt(4) = 1. */
  @Test
  void statedUncertaintiesGiveTheirOwnDeviation() {
    Fit fit = LeastSquares.of(
            "mean", (p, v) -> java.util.Arrays.fill(v, p[0]), new double[] {1, 2, 3, 6})
        .uncertainties(2, 2, 2, 2)
        .solve(1);
    assertThat(fit.parameter(0)).isCloseTo(3, within(1e-9));
    assertThat(fit.statedDeviation(0)).isCloseTo(1, within(1e-9));
    // RSS = (4 + 1 + 0 + 9) / 4 = 3.5, variance of the mean = 3.5 / 3 * 1
    assertThat(fit.standardDeviation(0)).isCloseTo(Math.sqrt(3.5 / 3), within(1e-9));
  }

  /** The line falls, but the slope may not: it stays at 0 and the intercept becomes the mean. */
  @Test
  void parameterPushedOutOfItsBoundsIsHeldAndToldOf() {
    Fit fit = line(new double[] {4, 2, 0})
        .bounds(
            new double[] {Double.NEGATIVE_INFINITY, 0}, new double[] {Double.POSITIVE_INFINITY, 10})
        .solve(1, 1);
    assertThat(fit.parameter(1)).isZero();
    assertThat(fit.parameter(0)).isCloseTo(2, within(1e-9));
    assertThat(fit.atBound(1)).isTrue();
    assertThat(fit.standardDeviation(1)).isNaN();
    assertThat(fit.standardDeviation(0)).isCloseTo(Math.sqrt(8 / 2.0 / 3), within(1e-9));
  }

  @Test
  void unknownsThatTheDataCannotTellApartAreRefused() {
    LeastSquares twice = LeastSquares.of(
        "twin",
        (p, v) -> {
          for (int i = 0; i < v.length; i++) {
            v[i] = (p[0] + p[1]) * i;
          }
        },
        new double[] {0, 1.1, 1.9, 3.2});
    assertThatThrownBy(() -> twice.solve(1, 1))
        .isInstanceOf(NoConvergenceException.class)
        .hasMessage(
            "twin: the observations do not determine parameter 1 (counted from 0) apart from the"
                + " others. Fix it, or add observations that depend on it");
  }

  @Test
  void tooLittleWorkIsNoResult() {
    assertThatThrownBy(() -> LeastSquares.of(
                "decay",
                (p, v) -> {
                  for (int i = 0; i < v.length; i++) {
                    v[i] = p[0] * StrictMath.exp(-p[1] * i);
                  }
                },
                new double[] {5, 3, 2, 1, 0.7})
            .mostEvaluations(2)
            .solve(100, 7))
        .isInstanceOf(NoConvergenceException.class)
        .hasMessageStartingWith("decay: no minimum after 2 evaluations, best at [")
        .hasMessageEndingWith("]. Start nearer, or fit fewer unknowns");
  }

  @Test
  void refusesWhatCannotBeFitted() {
    assertThatThrownBy(() -> line(new double[] {1}).solve(0, 0))
        .hasMessage(
            "line: 1 observations for 2 parameters; expected at least as many, and one parameter"
                + " or more");
    assertThatThrownBy(() -> line(new double[] {1, 2}).uncertainties(1, 0))
        .hasMessage("line: uncertainty 1 = 0.0; expected above 0");
    assertThatThrownBy(() -> line(new double[] {1, Double.NaN}).solve(0, 0))
        .hasMessage("line: the model or an observation is not finite at the start [0.0, 0.0]");
  }

  /**
   * Stack loss data (Brownlee 1965, Statistical Theory and Methodology, p. 454). Ordinary and Huber
   * coefficients, the latter with their standard errors, as printed in the statsmodels 0.10.2
   * documentation (robust_models_0: HuberT, covariance H1); the data from memory, and confirmed by the
   * ordinary coefficients.
   */
  @Test
  void huberMeetsPublishedRobustRegression() {
    double[][] x = {
      {80, 27, 89}, {80, 27, 88}, {75, 25, 90}, {62, 24, 87}, {62, 22, 87}, {62, 23, 87},
      {62, 24, 93}, {62, 24, 93}, {58, 23, 87}, {58, 18, 80}, {58, 18, 89}, {58, 17, 88},
      {58, 18, 82}, {58, 19, 93}, {50, 18, 89}, {50, 18, 86}, {50, 19, 72}, {50, 19, 79},
      {50, 20, 80}, {56, 20, 82}, {70, 20, 91}
    };
    double[] y = {42, 37, 37, 28, 18, 18, 19, 20, 15, 14, 14, 13, 11, 12, 8, 7, 8, 8, 9, 15, 15};
    LeastSquares problem = LeastSquares.of(
        "stack loss",
        (p, v) -> {
          for (int i = 0; i < v.length; i++) {
            v[i] = p[0] + p[1] * x[i][0] + p[2] * x[i][1] + p[3] * x[i][2];
          }
        },
        y);
    double[] ordinary = {-39.9197, 0.7156, 1.2953, -0.1521};
    double[] huber = {-41.02649835, 0.82938433, 0.92606597, -0.12784672};
    double[] errors = {9.79189854, 0.11100521, 0.30293016, 0.12864961};
    Fit plain = problem.solve(0, 0, 0, 0);
    Fit robust = problem.robust(1.345).solve(0, 0, 0, 0);
    for (int k = 0; k < 4; k++) {
      assertThat(plain.parameter(k)).isCloseTo(ordinary[k], within(5e-5));
      // their iteration stops earlier than ours
      assertThat(robust.parameter(k)).isCloseTo(huber[k], within(1e-5 * Math.abs(huber[k])));
      assertThat(robust.standardDeviation(k)).isCloseTo(errors[k], within(1e-5 * errors[k]));
    }
  }

  private static LeastSquares line(double[] y) {
    return LeastSquares.of(
        "line",
        (p, v) -> {
          for (int i = 0; i < v.length; i++) {
            v[i] = p[0] + p[1] * i;
          }
        },
        y);
  }
}
