package org.slabnote.desktop;

import static org.slabnote.api.quantity.Quantities.deg;
import static org.slabnote.api.quantity.Quantities.mPerNs;
import static org.slabnote.api.quantity.Quantities.mm;
import static org.slabnote.api.quantity.Quantities.ns;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.TreeSet;
import org.slabnote.api.Antenna;
import org.slabnote.api.Conclusion;
import org.slabnote.api.Cut;
import org.slabnote.api.Point;
import org.slabnote.api.Samples;
import org.slabnote.api.Scan;
import org.slabnote.api.Survey;
import org.slabnote.api.SurveyRow;
import org.slabnote.api.Target;
import org.slabnote.api.TargetClass;
import org.slabnote.api.Targets;
import org.slabnote.api.TimeAxis;
import org.slabnote.api.Track;
import org.slabnote.api.VelocityEstimate;
import org.slabnote.api.Verdict;
import org.slabnote.api.quantity.Measured;
import org.slabnote.api.quantity.Quantities;

/** A made-up slab with one pass, one bar and one cut. */
final class SlabFixture {
  static final String NOTEBOOK = """
      # Landing

      One pass over a *made-up* landing.

      ```java setup
      var across = scans(ACROSS);
      ```

      The velocity is doubtful.

      ```csv picks-E01
      pass,distance_m,time_ns
      E01,0.2000,2.0000
      ```

      ```java velocity
      var velocity = run(new HyperbolaFit(across.of("E01"), picks("picks-E01"), mm(16)));
      show(across.of("E01"));
      ```
      """;

  private static final Antenna PAIR = new Antenna(deg(90), deg(90), mm(60), Quantities.MHz(2000));

  private SlabFixture() {}

  static Survey survey() {
    return new Survey(List.of(new SurveyRow(
        "E01",
        "across",
        "E01.sgy",
        PAIR,
        Point.of(0, 0.1),
        Point.of(1, 0.1),
        ns(0.05),
        Optional.empty(),
        Optional.empty(),
        new TreeMap<>())));
  }

  /** 101 traces of 200 samples; its surface lies at 1 ns of its own axis. */
  static Scan scan() {
    float[] samples = new float[101 * 200];
    for (int i = 0; i < 101; i++) {
      for (int j = 0; j < 200; j++) {
        samples[i * 200 + j] = (float) Math.sin(0.3 * j + 0.002 * (i - 50) * (i - 50));
      }
    }
    return new Scan(
        "E01",
        "across",
        PAIR,
        new TimeAxis(ns(0), ns(0.05), 200),
        Track.between(Point.of(0, 0.1), Point.of(1, 0.1), 101),
        Samples.of(samples),
        Optional.of(Measured.of(ns(1), "setup/surface#time zero", ns(0.02))),
        Optional.empty(),
        List.of());
  }

  static Results before() {
    return results(Optional.empty(), List.of(), Map.of());
  }

  static Results found() {
    Target bar = new Target(
        "T01",
        Point.of(0.5, 0.1),
        Optional.empty(),
        Measured.of(mm(62), "fit", mm(2)),
        List.of(),
        Measured.of(mm(0), "fit", mm(4)),
        Target.Reference.TOP,
        Measured.of(mm(16), "assumed", mm(3)),
        Optional.empty(),
        Optional.empty(),
        new TreeMap<>(Map.of(TargetClass.METAL, 0.9, TargetClass.NON_METAL, 0.1)),
        Target.Status.POSSIBLE,
        "a tendon",
        List.of());
    Conclusion near = new Conclusion(
        "C1",
        "T01 lies within the required 50 mm.",
        Verdict.INFRINGES,
        Optional.of(Measured.of(mm(-20), "fit", mm(4))),
        Optional.of("T01"),
        new TreeMap<>());
    return results(
        Optional.of(new Targets(List.of(bar))),
        List.of(near),
        Map.of("velocity/across/E01", scan()));
  }

  private static Results results(
      Optional<Targets> targets, List<Conclusion> conclusions, Map<String, Object> values) {
    Cut cut = new Cut(
        "C1",
        Cut.Kind.CORE,
        Point.of(0.55, 0.12),
        Point.of(0.55, 0.12),
        mm(40),
        mm(150),
        mm(50),
        new TreeMap<>());
    Results.Shown recorded =
        new Results.Shown("scan/E01/across", "as recorded, across", "E01", List.of(), false);
    return new Results(
        "Landing",
        survey(),
        List.of(cut),
        targets,
        Optional.empty(),
        Optional.empty(),
        conclusions,
        values.isEmpty()
            ? Optional.empty()
            : Optional.of(new VelocityEstimate(
                Measured.of(mPerNs(0.1), "fit", mPerNs(0.002)), "hyperbola fit", "", List.of())),
        values.isEmpty()
            ? List.of(recorded)
            : List.of(
                new Results.Shown("velocity/across/E01", "velocity/across", "E01", List.of(), true),
                recorded),
        new TreeMap<>(Map.of("velocity", new TreeSet<>(List.of("picks-E01")))),
        List.of(),
        address -> Optional.ofNullable(values.get(address)));
  }
}
