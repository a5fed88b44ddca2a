package org.slabnote.velocity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.slabnote.api.quantity.Quantities.mm;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.slabnote.api.Scan;
import org.slabnote.api.Step;
import org.slabnote.api.VelocityEstimate;
import org.slabnote.api.Work;
import org.slabnote.methods.wave.CylinderTarget;

/** Scans by the exact cylinder series: outside the straight-ray model that is fitted. */
class FitDiffractionsTest {

  /**
   * Twenty invented scans: permittivity 4 to 12, cover 25 to 180 mm, 1 to 2.6 GHz, bars of 6 to 20
   * mm, one or two at 100 to 200 mm pitch, noise, the surface time off by what it states. 95 % of
   * the fits must hold within U95; with so few, 90 % are asked for.
   */
  @Test
  void statedUncertaintyHoldsInNineOfTen() {
    SplittableRandom random = new SplittableRandom(20);
    double[] frequencies = {1.0, 1.5, 2.0, 2.6};
    double[] diameters = {6, 9.5, 12.7, 16, 20};
    int held = 0;
    int all = 0;
    int scansWithout = 0;
    for (int k = 0; k < 20; k++) {
      double eps = random.nextDouble(4, 12);
      double f = frequencies[k % 4];
      double d = diameters[random.nextInt(5)];
      double cover = random.nextDouble(0.025, 0.18);
      double place = random.nextDouble(0.3, 0.45);
      SeriesScan made = new SeriesScan(eps, f > 1.2 ? 0.06 : 0.10, f, 0.8, 0.01)
          .add(CylinderTarget.metal(d / 2000), place, cover, 1);
      if (k % 3 == 2) {
        double pitch = random.nextDouble(0.1, 0.2);
        made.add(CylinderTarget.metal(d / 2000), place + pitch, cover, 1);
      }
      double u = 0.05 / f;
      double off = u * Math.max(-2, Math.min(2, random.nextGaussian()));
      List<VelocityEstimate> fits =
          fits(made.scan("E" + k, random.nextDouble(0.001, 0.02), k, u, off));
      scansWithout += fits.isEmpty() ? 1 : 0;
      for (VelocityEstimate fit : fits) {
        all++;
        var e = fit.permittivity();
        held += Math.abs(e.value().value() - eps) <= e.u95().value() ? 1 : 0;
      }
    }
    assertThat(scansWithout).isLessThanOrEqualTo(4);
    assertThat(held).isGreaterThanOrEqualTo((int) Math.ceil(0.9 * all));
  }

  /** A bar crossed at 60 degrees shows eps sin^2 60 = 0.75 eps (trade practice, geometry). */
  @Test
  void obliqueBarShowsLessByTheSquareOfTheSine() {
    Scan scan = new SeriesScan(8, 0.06, 2.0, 0.8, 0.01)
        .add(CylinderTarget.metal(0.006), 0.4, 0.08, Math.sqrt(0.75))
        .scan("E01", 0.002, 1, 0.02, 0);
    List<VelocityEstimate> fits = fits(scan);
    assertThat(fits).hasSize(1);
    assertThat(fits.get(0).permittivity().value().value()).isBetween(5.7, 6.3);
  }

  @Test
  void anAirFilledTubeServesToo() {
    Scan scan = new SeriesScan(7, 0.06, 1.5, 0.8, 0.01)
        .add(CylinderTarget.tube(0.0134, 0.0105, 3, 1), 0.4, 0.09, 1)
        .scan("E01", 0.005, 1, 0.03, 0);
    List<VelocityEstimate> fits = fits(scan);
    assertThat(fits).isNotEmpty();
    var eps = fits.get(0).permittivity();
    assertThat(Math.abs(eps.value().value() - 7)).isLessThan(eps.u95().value());
  }

  @Test
  void noiseAloneGivesNoFit() {
    List<VelocityEstimate> all = new ArrayList<>();
    for (int k = 0; k < 5; k++) {
      SeriesScan empty = new SeriesScan(7, 0.06, 2.0, 0.8, 0.01);
      SplittableRandom random = new SplittableRandom(k);
      Scan scan = empty.scan("E01", 0, 1, 0.02, 0);
      all.addAll(fits(scan.eachTrace(Work.serial("n"), t -> noise(t, random))));
    }
    assertThat(all).isEmpty();
  }

  private static float[] noise(float[] trace, SplittableRandom random) {
    for (int j = 0; j < trace.length; j++) {
      trace[j] = (float) random.nextGaussian();
    }
    return trace;
  }

  private static List<VelocityEstimate> fits(Scan scan) {
    return new FitDiffractions(Step.given(scan), mm(12)).apply(Work.serial("fits"));
  }
}
