package org.slabnote.methods.path;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.junit.jupiter.api.Test;

class TravelTimeTest {

  /** By hand: at the apex the top of the cylinder reflects like a plane, whatever the radius. */
  @Test
  void apexIsThePlaneAtTheCover() {
    assertThat(TravelTime.cylinderLength(0, 0.05, 0.02, 0.06))
        .isCloseTo(TravelTime.planeLength(0.05, 0.06), within(1e-15));
  }

  /** By hand: 3-4-5 triangle, cover 40 mm, separation 60 mm: two legs of 50 mm. */
  @Test
  void depthIsTheInverseOfThePlane() {
    assertThat(TravelTime.plane(0.04, 0.06, 0.1)).isCloseTo(1.0, within(1e-15));
    assertThat(TravelTime.depth(1.0, 0.06, 0.1)).isCloseTo(0.04, within(1e-15));
    assertThat(TravelTime.depth(0.6, 0.06, 0.1)).isZero();
  }

  /** Legs to every point of a dense arc are never shorter, even close by and far to the side. */
  @Test
  void noPointOfTheSurfaceGivesAShorterWay() {
    Random random = new Random(7);
    for (int i = 0; i < 2000; i++) {
      double a = StrictMath.pow(10, -4 + 4 * random.nextDouble());
      double h = StrictMath.pow(10, -4 + 4 * random.nextDouble());
      double s = random.nextInt(5) == 0 ? 0 : StrictMath.pow(10, -4 + 4 * random.nextDouble());
      double x = 2 * random.nextGaussian();
      double length = TravelTime.cylinderLength(x, h, a, s);
      double least = shortestOf(x, h, a, s);
      assertThat(length).isLessThanOrEqualTo(least * (1 + 1e-14));
      assertThat(length).isCloseTo(least, within(1e-3 * least));
    }
  }

  @Test
  void leftAndRightAreEqual() {
    assertThat(TravelTime.cylinderLength(0.13, 0.05, 0.03, 0.06))
        .isCloseTo(TravelTime.cylinderLength(-0.13, 0.05, 0.03, 0.06), within(1e-16));
  }

  @Test
  void refusesWhatCannotBe() {
    assertThatThrownBy(() -> TravelTime.cylinderLength(0, 0, 0.01, 0.06))
        .hasMessage("travel time: cover = 0.0; expected m, above 0");
    assertThatThrownBy(() -> TravelTime.cylinderLength(Double.NaN, 0.1, 0.01, 0.06))
        .hasMessage("travel time: x = NaN; expected m, finite");
    assertThatThrownBy(() -> TravelTime.depth(0.5, 0.06, 0.1))
        .hasMessage("travel time: time = 0.5; expected ns, at least separation / velocity");
  }

  private static double shortestOf(double x, double h, double a, double s) {
    double least = Double.POSITIVE_INFINITY;
    double z = h + a;
    for (int i = 0; i <= 4000; i++) {
      double angle = Math.PI * (i / 4000.0 - 0.5);
      double px = a * StrictMath.sin(angle);
      double pz = a * StrictMath.cos(angle);
      double way =
          StrictMath.hypot(x - s / 2 - px, z - pz) + StrictMath.hypot(x + s / 2 - px, z - pz);
      least = Math.min(least, way);
    }
    return least;
  }
}
