package org.slabnote.targets;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.slabnote.api.Target;
import org.slabnote.api.TargetClass;

/** Invented slabs: only their times are physics (exact paths). */
class LinkingTest {
  /** Two mats each way, an oblique pipe, a tendon that rises under a bar; 16 passes. */
  private static Simulator slab() {
    Simulator s = new Simulator(7, 2.0)
        .mat(true, 0.12, 0.15, 8, 0.040, 0.012, 1)
        .mat(false, 0.10, 0.15, 8, 0.052, 0.012, 1)
        .mat(true, 0.12, 0.20, 6, 0.145, 0.012, 1)
        .mat(false, 0.10, 0.20, 6, 0.157, 0.012, 1)
        .bar(0.0, 0.3, 1.2, 0.85, 0.075, 0.025, 0.5);
    s.lines.add(new Simulator.Line(0.57, -1, 0.57, 2, 0.06, 0.06, 0.06, 0.015, 1));
    s.base = 0.2;
    return s;
  }

  @Test
  void findsEveryLineOfADenseSlabAndNoOther() {
    Simulator slab = slab();
    Survey12 survey = new Survey12(slab, 0, 8, 0.15);
    List<Target> targets = survey.targets(0).list();
    List<Simulator.Line> missed = new ArrayList<>(slab.lines);
    int covered = 0;
    int matched = 0;
    List<Target> wrong = new ArrayList<>();
    for (Target t : targets) {
      if (t.classes().containsKey(TargetClass.PLANE)) {
        assertThat(t.depth().value().value()).isBetween(0.196, 0.204);
        continue;
      }
      Simulator.Line truth = slab.nearest(t);
      if (truth == null) {
        wrong.add(t);
        continue;
      }
      missed.remove(truth);
      matched++;
      covered += slab.depthError(t, truth) <= t.depth().u95().value() ? 1 : 0;
    }
    assertThat(missed).isEmpty();
    assertThat(wrong).isEmpty();
    assertThat(covered).isGreaterThanOrEqualTo((int) Math.ceil(0.9 * matched));
  }
}
