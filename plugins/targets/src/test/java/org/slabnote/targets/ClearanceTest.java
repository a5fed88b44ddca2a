package org.slabnote.targets;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.slabnote.api.quantity.Quantities.m;
import static org.slabnote.api.quantity.Quantities.mm;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;
import org.slabnote.api.Conclusion;
import org.slabnote.api.Cut;
import org.slabnote.api.Event;
import org.slabnote.api.EventState;
import org.slabnote.api.Events;
import org.slabnote.api.Point;
import org.slabnote.api.Step;
import org.slabnote.api.Target;
import org.slabnote.api.TargetClass;
import org.slabnote.api.Targets;
import org.slabnote.api.Verdict;
import org.slabnote.api.Visibility;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Angle;
import org.slabnote.api.quantity.Decibel;
import org.slabnote.api.quantity.Length;
import org.slabnote.api.quantity.Measured;
import org.slabnote.api.quantity.TimeSpan;

/** Distances and probabilities by hand; no published clearances exist (common practice, no source). */
class ClearanceTest {
  /** A bar of 20 mm along y at x, top at depth; u(across) 3 mm, u(depth) 4 mm, u(diameter) 0. */
  private static Target bar(String name, double x, double top, Target.Status status) {
    return new Target(
        name,
        Point.of(x, -1),
        Optional.of(Point.of(x, 2)),
        Measured.of(m(top), "depth", mm(4)),
        List.of(m(top), m(top)),
        Measured.of(m(0), "across", mm(3)),
        Target.Reference.TOP,
        Measured.exact(mm(20)),
        Optional.of(new Angle(90)),
        Optional.empty(),
        new TreeMap<>(Map.of(TargetClass.METAL, 0.9, TargetClass.NON_METAL, 0.1)),
        status,
        status == Target.Status.NOT_RESOLVED ? "perhaps a multiple" : "",
        List.of());
  }

  private static Cut core(double x, double depth, double required) {
    TreeMap<TargetClass, Length> clearances = new TreeMap<>();
    if (required > 0) {
      clearances.put(TargetClass.METAL, m(required));
    }
    return new Cut(
        "C1",
        Cut.Kind.CORE,
        Point.of(x, 0.5),
        Point.of(x, 0.5),
        mm(100),
        m(depth),
        mm(50),
        clearances);
  }

  private static Visibility seen(double reach) {
    List<Visibility.Sight> sights = new java.util.ArrayList<>();
    for (int i = 0; i <= 10; i++) {
      sights.add(new Visibility.Sight(
          "E" + i,
          "across",
          Point.of(0, 0.1 * i),
          Point.of(1, 0.1 * i),
          m(reach),
          mm(8),
          mm(50),
          ""));
    }
    return new Visibility(sights, List.of());
  }

  private static Conclusion judge(Cut cut, Visibility seen, Events ledger, Target... targets) {
    return new Clearance(
            Step.given(new Targets(List.of(targets))), cut, Step.given(seen), Step.given(ledger))
        .apply(Work.serial("cut"));
  }

  private static final Events NONE = new Events(List.of());

  /** 0.20 - 0.05 (bore) - 0.01 (bar) = 0.14 m to the side; u^2 = 3^2 + 5^2 (mark), in mm. */
  @Test
  void measuresToTheSideOfABarBesideTheBore() {
    Conclusion c =
        judge(core(0.5, 0.2, 0), seen(0.3), NONE, bar("T01", 0.3, 0.1, Target.Status.PROBABLE));
    assertThat(c.figures().get("distance_m")).isCloseTo(0.14, within(1e-9));
    assertThat(c.margin().orElseThrow().u().value()).isCloseTo(Math.sqrt(34) / 1000, within(1e-6));
    assertThat(c.verdict()).isEqualTo(Verdict.NOTHING_DETECTED_WITHIN);
    assertThat(c.statement()).contains("no required clearance was set").doesNotContain("safe");
  }

  /** A bar 30 mm below the end of a blind bore: straight down, only the depth's 4 mm count. */
  @Test
  void measuresDownToABarBelowABlindBore() {
    Conclusion c =
        judge(core(0.5, 0.1, 0), seen(0.3), NONE, bar("T01", 0.5, 0.13, Target.Status.PROBABLE));
    assertThat(c.figures().get("distance_m")).isCloseTo(0.03, within(1e-9));
    assertThat(c.margin().orElseThrow().u().value()).isCloseTo(0.004, within(2e-5));
  }

  /** Axis in the centre of the bore: 0.05 + 0.01 deep in it. Phi(60 / 5.83) is 1 to 1e-20. */
  @Test
  void saysThatABarInTheBoreInfringes() {
    Conclusion c =
        judge(core(0.5, 0.2, 0.025), seen(0.3), NONE, bar("T01", 0.5, 0.1, Target.Status.PROBABLE));
    assertThat(c.verdict()).isEqualTo(Verdict.INFRINGES);
    assertThat(c.figures().get("contact_probability_1")).isCloseTo(1, within(1e-9));
  }

  /** Distance 30 mm, required 25: margin 5 mm below U95 11.7 mm. P = Phi(-5 / 5.831) = 0.1956. */
  @Test
  void doesNotResolveWhatTheUncertaintySpans() {
    Conclusion c = judge(
        core(0.5, 0.2, 0.025), seen(0.3), NONE, bar("T01", 0.41, 0.1, Target.Status.PROBABLE));
    assertThat(c.figures().get("distance_m")).isCloseTo(0.03, within(1e-9));
    assertThat(c.verdict()).isEqualTo(Verdict.NOT_RESOLVED);
    assertThat(c.figures().get("infringement_probability_1")).isCloseTo(0.1956, within(2e-4));
  }

  @Test
  void doesNotResolveATargetThatIsItselfInDoubt() {
    Conclusion c =
        judge(core(0.5, 0.2, 0), seen(0.3), NONE, bar("T01", 0.5, 0.1, Target.Status.NOT_RESOLVED));
    assertThat(c.verdict()).isEqualTo(Verdict.NOT_RESOLVED);
    assertThat(c.statement()).contains("perhaps a multiple");
  }

  @Test
  void tellsGroundThatNoPassSaw() {
    Conclusion c =
        judge(core(1.3, 0.2, 0), seen(0.3), NONE, bar("T01", 0.3, 0.1, Target.Status.PROBABLE));
    assertThat(c.verdict()).isEqualTo(Verdict.NOT_SEEN);
    assertThat(c.figures()).doesNotContainKey("seen_to_m");
  }

  @Test
  void tellsWhatLiesBelowTheReach() {
    Conclusion c = judge(core(0.5, 0.2, 0), seen(0.12), NONE);
    assertThat(c.verdict()).isEqualTo(Verdict.NOTHING_DETECTED_WITHIN);
    assertThat(c.statement())
        .contains("down to 120 mm")
        .contains("from 120 mm to the cut's depth of 200 mm");
  }

  @Test
  void anOpenEventNearLeavesItUnresolved() {
    Event open = new Event(
        "E05:across:01",
        "E05",
        "across",
        Event.Shape.DIFFRACTION,
        Point.of(0.52, 0.5),
        Measured.exact(m(0.52)),
        Measured.exact(new TimeSpan(2)),
        Measured.of(m(0.1), "z", mm(4)),
        1,
        new Decibel(15),
        0.8,
        new Angle(0),
        EventState.OPEN,
        "");
    Conclusion c = judge(core(0.5, 0.2, 0), seen(0.3), new Events(List.of(open)));
    assertThat(c.verdict()).isEqualTo(Verdict.NOT_RESOLVED);
    assertThat(c.statement()).contains("E05:across:01");
  }

  /** A line that was last seen 100 mm short of the bore but points into it. */
  @Test
  void aLineThatPointsAtTheBoreLeavesItUnresolved() {
    Target whole = bar("T01", 0.5, 0.1, Target.Status.PROBABLE);
    Target part = new Target(
        "T01",
        Point.of(0.5, -1),
        Optional.of(Point.of(0.5, 0.3)),
        whole.depth(),
        whole.endDepths(),
        whole.across(),
        whole.reference(),
        whole.diameter(),
        whole.strike(),
        whole.pairRatio(),
        whole.classes(),
        whole.status(),
        "",
        List.of());
    Conclusion c = judge(core(0.5, 0.2, 0), seen(0.3), NONE, part);
    assertThat(c.verdict()).isEqualTo(Verdict.NOT_RESOLVED);
    assertThat(c.statement()).contains("runs on");
  }
}
