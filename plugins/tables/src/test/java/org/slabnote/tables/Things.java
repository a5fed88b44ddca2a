package org.slabnote.tables;

import static org.slabnote.api.quantity.Quantities.dB;
import static org.slabnote.api.quantity.Quantities.deg;
import static org.slabnote.api.quantity.Quantities.m;
import static org.slabnote.api.quantity.Quantities.mPerNs;
import static org.slabnote.api.quantity.Quantities.mm;
import static org.slabnote.api.quantity.Quantities.ns;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.slabnote.api.Conclusion;
import org.slabnote.api.Event;
import org.slabnote.api.EventState;
import org.slabnote.api.Events;
import org.slabnote.api.PairRatio;
import org.slabnote.api.Point;
import org.slabnote.api.Target;
import org.slabnote.api.TargetClass;
import org.slabnote.api.Targets;
import org.slabnote.api.VelocityEstimate;
import org.slabnote.api.Verdict;
import org.slabnote.api.Visibility;
import org.slabnote.api.quantity.Measured;

/** Invented findings for the tests. */
final class Things {
  private Things() {}

  static Target line(String name, double depth) {
    return new Target(
        name,
        Point.of(0.4, 0),
        Optional.of(Point.of(0.4, 1.2)),
        Measured.of(m(depth), "t", mm(2)),
        List.of(m(depth), m(depth)),
        Measured.of(m(0), "a", mm(3)),
        Target.Reference.TOP,
        Measured.of(mm(12), "d", mm(3)),
        Optional.of(deg(90)),
        Optional.empty(),
        new TreeMap<>(),
        Target.Status.PROBABLE,
        "",
        List.of("E01/across/1", "E02/across/1"));
  }

  static Target point(String name) {
    Target t = new Target(
        name,
        Point.of(0.25, 0.5),
        Optional.empty(),
        Measured.of(mm(60), "t", mm(4)),
        List.of(),
        Measured.of(m(0), "a", mm(4)),
        Target.Reference.TOP,
        Measured.of(mm(16), "d", mm(4)),
        Optional.empty(),
        Optional.empty(),
        new TreeMap<>(),
        Target.Status.POSSIBLE,
        "",
        List.of("E01/across/2"));
    return t.withPairRatio(new PairRatio(Measured.of(dB(4.6), "r", dB(0.4)), deg(100), true, ""))
        .withClasses(
            new TreeMap<>(Map.of(TargetClass.METAL, 0.9, TargetClass.NON_METAL, 0.1)),
            "water pipe");
  }

  static Targets targets() {
    return new Targets(List.of(line("T01", 0.050), line("T02", 0.030), point("T03")));
  }

  static VelocityEstimate velocity() {
    VelocityEstimate one = new VelocityEstimate(
        Measured.of(mPerNs(0.11), "fit", mPerNs(0.002)), "hyperbola fit", "pass E01", List.of());
    return new VelocityEstimate(
        Measured.of(mPerNs(0.109), "mean", mPerNs(0.001)),
        "weighted mean",
        "one fit",
        List.of(one));
  }

  static Events events() {
    return new Events(List.of(new Event(
        "E01/across/1",
        "E01",
        "across",
        Event.Shape.DIFFRACTION,
        Point.of(0.4, 0.05),
        Measured.of(mm(400), "p", mm(3)),
        Measured.of(ns(0.9), "t", ns(0.02)),
        Measured.of(mm(50), "z", mm(2)),
        12,
        dB(21),
        0.8,
        deg(-170),
        EventState.EXPLAINED,
        "T01")));
  }

  static Visibility visibility() {
    return new Visibility(
        List.of(new Visibility.Sight(
            "E01", "across", Point.of(0, 0), Point.of(1, 0), mm(180), mm(8), mm(90), "noise")),
        List.of(new Visibility.Unseen(Point.of(0, 0), Point.of(1, 0.05), m(0), "not scanned")));
  }

  static Conclusion conclusion() {
    return new Conclusion(
        "C1",
        "nothing detected within 25 mm down to 180 mm",
        Verdict.NOTHING_DETECTED_WITHIN,
        Optional.of(Measured.of(mm(31), "m", mm(4))),
        Optional.of("T01"),
        new TreeMap<>(Map.of("distance_m", 0.056, "required_m", 0.025)));
  }
}
