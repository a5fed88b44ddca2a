package org.slabnote.polarization;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.slabnote.api.quantity.Quantities.MHz;
import static org.slabnote.api.quantity.Quantities.deg;
import static org.slabnote.api.quantity.Quantities.m;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;
import org.slabnote.api.Antenna;
import org.slabnote.api.Step;
import org.slabnote.api.Target;
import org.slabnote.api.TargetClass;
import org.slabnote.api.Targets;
import org.slabnote.api.Work;
import org.slabnote.methods.wave.CylinderTarget;
import org.slabnote.methods.wave.PairTheory;

class ClassifyTest {
  private static final Antenna ANTENNA = new Antenna(deg(90), deg(90), m(0.06), MHz(2000));

  /**
   * Drawn from the priors (three in four metal), sizes and covers at random, ratio off by what it
   * states: the probabilities must beat the prior alone (Brier score 0.1875) by a clear way, and
   * calls above 0.9 must hold in nine of ten.
   */
  @Test
  void probabilitiesAreWorthMoreThanThePrior() {
    SplittableRandom random = new SplittableRandom(7);
    List<Target> targets = new ArrayList<>();
    List<Boolean> metal = new ArrayList<>();
    for (int k = 0; k < 60; k++) {
      boolean steel = random.nextDouble() < 0.75;
      double d = random.nextDouble(0.006, 0.025);
      double cover = random.nextDouble(0.04, 0.15);
      CylinderTarget body = steel
          ? CylinderTarget.metal(d / 2)
          : CylinderTarget.tube(d / 2 + 0.005, d / 2 + 0.003, 3, 1);
      PairTheory t = PairTheory.ofRicker(body, 7, 0.06, cover, 0, 1.9);
      targets.add(Fixtures.target("T" + k, k, cover, false)
          .withPairRatio(Fixtures.ratio(
              t.ratio() + random.nextGaussian(),
              1,
              t.phase() * 180 / Math.PI + 15 * random.nextGaussian())));
      metal.add(steel);
    }
    List<Target> called = classify(7, targets);
    double brier = 0;
    int sure = 0;
    int right = 0;
    for (int k = 0; k < called.size(); k++) {
      double p = called.get(k).classes().get(TargetClass.METAL);
      double truth = metal.get(k) ? 1 : 0;
      brier += (p - truth) * (p - truth) / called.size();
      if (p > 0.9 || p < 0.1) {
        sure++;
        right += (p > 0.5) == metal.get(k) ? 1 : 0;
      }
    }
    assertThat(brier).isLessThan(0.09);
    assertThat(sure).isGreaterThan(20);
    assertThat(right).isGreaterThanOrEqualTo((int) Math.ceil(0.9 * sure));
  }

  /**
   * A 15 mm tendon 110 mm deep under a 16 mm bar at 45 mm shows -8.3 dB (computed by another
   * program), as a plastic tube would: steel is not ruled out there.
   */
  @Test
  void beneathABarSteelIsNeverRuledOut() {
    Target bar = Fixtures.target("T01", 0.40, 0.045, true);
    Target tendon =
        Fixtures.target("T02", 0.41, 0.110, true).withPairRatio(Fixtures.ratio(-8.3, 1, 10));
    Target free =
        Fixtures.target("T03", 0.90, 0.110, true).withPairRatio(Fixtures.ratio(-3.4, 1, 10));
    List<Target> called = classify(8, List.of(bar, tendon, free));
    assertThat(called.get(1).classes().get(TargetClass.METAL)).isGreaterThanOrEqualTo(0.5);
    assertThat(called.get(1).alternatives()).contains("beneath T01").contains("never ruled out");
    assertThat(called.get(2).classes().get(TargetClass.METAL)).isLessThan(0.3);
  }

  /** 16 mm steel and the 27 mm air tube under 25 mm: +9.3 and +13.9 dB; a shallow tube reads like steel. */
  @Test
  void aShallowTubeIsSaidToBeUninformative() {
    Target shallow =
        Fixtures.target("T01", 0.4, 0.025, false).withPairRatio(Fixtures.ratio(10, 1.6, 60));
    Target called = classify(8, List.of(shallow)).get(0);
    assertThat(called.alternatives()).contains("uninformative");
    assertThat(called.classes().get(TargetClass.NON_METAL)).isGreaterThan(0.05);
  }

  @Test
  void withoutARatioThePriorIsGivenAndSaid() {
    Target called =
        classify(7, List.of(Fixtures.target("T01", 0.4, 0.06, false))).get(0);
    assertThat(called.classes().get(TargetClass.METAL)).isCloseTo(0.75, within(1e-12));
    assertThat(called.alternatives()).contains("prior only");
  }

  @Test
  void planesStayPlanes() {
    Target plane = Fixtures.target("T01", 0.4, 0.2, false)
        .withClasses(new TreeMap<>(Map.of(TargetClass.PLANE, 1.0)), "base of the slab");
    assertThat(classify(7, List.of(plane))).containsExactly(plane);
  }

  private static List<Target> classify(double eps, List<Target> targets) {
    return new Classify(Step.given(new Targets(targets)), Fixtures.velocity(eps), ANTENNA)
        .apply(Work.serial("classify"))
        .list();
  }
}
