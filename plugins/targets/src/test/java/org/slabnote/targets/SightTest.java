package org.slabnote.targets;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.slabnote.api.Step;
import org.slabnote.api.Steps;
import org.slabnote.api.Visibility;
import org.slabnote.api.Work;

/** What could have been seen on an invented slab (common practice, no source). */
class SightTest {
  private static Visibility sight(double noise) {
    Simulator slab = new Simulator(7, 2.0).mat(true, 0.12, 0.15, 8, 0.050, 0.012, 1);
    slab.scatterers = 0;
    slab.noise = noise;
    Survey12 survey = new Survey12(slab, 0, 4, 0.25);
    return new Sight(Steps.given(survey.scans), Step.given(survey.targets(0)), slab.velocityStep(0))
        .apply(Work.serial("seen"));
  }

  private static double reach(Visibility seen) {
    return seen.sights().get(0).reach().value();
  }

  @Test
  void moreNoiseSeesLessDeep() {
    double quiet = reach(sight(0.001));
    double loud = reach(sight(0.03));
    assertThat(quiet).isGreaterThan(0.2).isLessThanOrEqualTo(0.35);
    assertThat(loud).isLessThan(quiet).isGreaterThanOrEqualTo(0.05);
  }

  /** Passes 250 mm apart, seen 50 mm to each side at most: strips of 150 mm or more were not. */
  @Test
  void tellsTheStripsBetweenDistantPasses() {
    List<Visibility.Unseen> strips = sight(0.001).unseen().stream()
        .filter(u -> u.why().startsWith("between passes"))
        .toList();
    assertThat(strips).hasSize(6);
    Visibility.Unseen first = strips.get(0);
    assertThat(first.to().y().value() - first.from().y().value())
        .isGreaterThanOrEqualTo(0.15 - 1e-9);
    assertThat(first.below().value()).isZero();
  }
}
