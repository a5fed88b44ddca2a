package org.slabnote.methods.signal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.slabnote.methods.fit.SeededNormal;

class SemblanceTest {

  /** By hand: rows 1 and 3 at one sample: (1 + 3)^2 / (2 (1 + 9)) = 0.8, mean 2. */
  @Test
  void twoTracesByHand() {
    Semblance s =
        Semblance.along(new float[][] {{0, 1, 0}, {0, 0, 3}}, 0, new double[] {0.1, 0.2}, 0.1, 0);
    assertThat(s.value()).isCloseTo(0.8, within(1e-12));
    assertThat(s.stack()).isCloseTo(2, within(1e-12));
  }

  @Test
  void equalTracesAreAlikeAndOppositeOnesNot() {
    float[] up = {0, 1, 2, 1, 0};
    float[] down = {0, -1, -2, -1, 0};
    double[] times = {0.2, 0.2};
    assertThat(Semblance.along(new float[][] {up, up}, 0, times, 0.1, 1).value())
        .isCloseTo(1, within(1e-15));
    assertThat(Semblance.along(new float[][] {up, down}, 0, times, 0.1, 1).value())
        .isZero();
    assertThat(Semblance.along(new float[][] {up, up}, 0, times, 0.1, 3).traces())
        .isZero();
  }

  @Test
  void traceThatDoesNotReachIsLeftOut() {
    float[][] section = {{1, 1, 1}, {1, 1, 1}, {1, 1}};
    Semblance s = Semblance.along(section, 0, new double[] {0.2, 0.2, 0.2}, 0.1, 0);
    assertThat(s.traces()).isEqualTo(2);
    assertThatThrownBy(() -> Semblance.along(section, 2, new double[2], 0.1, 0))
        .hasMessage("semblance: traces 2 to 3 of 3; expected traces that exist");
  }

  /** Drawn noise, 20000 places: mean 1 / N, and as many above a limit as Fisher's F says (4 sigma). */
  @Test
  void noiseFollowsFishersDistribution() {
    int traces = 6;
    int half = 2;
    SeededNormal normal = new SeededNormal(3);
    int draws = 20_000;
    double sum = 0;
    int above = 0;
    double limit = 0.35;
    double[] times = new double[traces];
    java.util.Arrays.fill(times, 0.2);
    for (int d = 0; d < draws; d++) {
      float[][] section = new float[traces][5];
      for (float[] trace : section) {
        for (int i = 0; i < 5; i++) {
          trace[i] = (float) normal.next();
        }
      }
      double s = Semblance.along(section, 0, times, 0.1, half).value();
      sum += s;
      above += s > limit ? 1 : 0;
    }
    double chance = Semblance.chanceInNoise(limit, traces, 5);
    assertThat(sum / draws).isCloseTo(1.0 / traces, within(0.003));
    assertThat(above / (double) draws).isCloseTo(chance, within(4 * Math.sqrt(chance / draws)));
  }
}
