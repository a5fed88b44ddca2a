package org.slabnote.methods.wave;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.apache.commons.math3.complex.Complex;
import org.junit.jupiter.api.Test;

class DipolePairTest {

  /** Far below and together, both orientations see the same mirror: ratio 1. */
  @Test
  void deepPlaneLooksAlikeInBoth() {
    double[] p = DipolePair.plane(80, 0, 50);
    Complex ratio = new Complex(p[2], p[3]).divide(new Complex(p[0], p[1]));
    assertThat(ratio.getReal()).isCloseTo(1, within(1e-3));
    assertThat(ratio.getImaginary()).isCloseTo(0, within(1e-3));
  }

  /**
   * Conducting cylinders of 1 and 2 m radius, by their series, extrapolated to no curvature: what is left
   * is of the order (depth / radius)^2, 0.2 %.
   */
  @Test
  void veryThickCylindersTendToThePlane() {
    CylinderScattering one = CylinderScattering.of(CylinderTarget.metal(1), 6, 0.8);
    CylinderScattering two = CylinderScattering.of(CylinderTarget.metal(2), 6, 0.8);
    double[] plane = DipolePair.plane(one.waveNumber(), 0.06, 0.04);
    double[] curved = one.pair(0.06, 0.04, 0);
    double[] flatter = two.pair(0.06, 0.04, 0);
    for (int k = 0; k < 4; k += 2) {
      Complex expected = new Complex(plane[k], plane[k + 1]);
      Complex limit = new Complex(2 * flatter[k] - curved[k], 2 * flatter[k + 1] - curved[k + 1]);
      assertThat(limit.subtract(expected).abs()).isLessThan(0.005 * expected.abs());
    }
  }

  /** The direct along field by differences of the line source's field across the line of antennas. */
  @Test
  void directWaveIsTheSecondDifference() {
    double k = 90;
    double s = 0.06;
    double h = 1e-4;
    Bessel at = Bessel.of(0, k * s);
    Bessel beside = Bessel.of(0, k * Math.sqrt(s * s + h * h));
    double[] direct = DipolePair.direct(k, s);
    // -d2/dy2 of H_0(k d) / k^2, symmetric in y
    assertThat(direct[2]).isCloseTo(-2 * (beside.j(0) - at.j(0)) / (h * h * k * k), within(1e-5));
    assertThat(direct[3]).isCloseTo(2 * (beside.y(0) - at.y(0)) / (h * h * k * k), within(1e-5));
    assertThat(direct[0]).isEqualTo(at.j(0));
    assertThat(direct[1]).isEqualTo(-at.y(0));
  }

  /** Pair ratio of a plane base: small, and falling with depth. */
  @Test
  void planeBaseTendsToNoRatio() {
    double shallow = PairTheory.ofPlane(6, 0.06, 0.06, 2).ratio();
    double deep = PairTheory.ofPlane(6, 0.06, 0.25, 2).ratio();
    assertThat(shallow).isGreaterThan(deep);
    assertThat(deep).isBetween(0.0, 0.5);
  }
}
