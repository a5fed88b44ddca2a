package org.slabnote.report;

import static org.assertj.core.api.Assertions.assertThat;
import static org.slabnote.api.quantity.Quantities.MHz;
import static org.slabnote.api.quantity.Quantities.dB;
import static org.slabnote.api.quantity.Quantities.deg;
import static org.slabnote.api.quantity.Quantities.m;
import static org.slabnote.api.quantity.Quantities.mPerNs;
import static org.slabnote.api.quantity.Quantities.mm;
import static org.slabnote.api.quantity.Quantities.ns;

import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;
import org.slabnote.api.Antenna;
import org.slabnote.api.Conclusion;
import org.slabnote.api.Cut;
import org.slabnote.api.Event;
import org.slabnote.api.EventState;
import org.slabnote.api.Events;
import org.slabnote.api.JobSheet;
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
import org.slabnote.api.Visibility;
import org.slabnote.api.quantity.Measured;
import org.slabnote.engine.compiler.Compiled;
import org.slabnote.engine.document.Document;
import org.slabnote.engine.job.Job;
import org.slabnote.engine.record.Demand;
import org.slabnote.engine.record.RunFacts;

class HtmlReportTest {
  private static final Antenna ANTENNA = new Antenna(deg(90), deg(90), mm(60), MHz(2000));

  @Test
  void tellsTheConclusionTheFindingAndWhatWasNotSeen() {
    String page = HtmlReport.of(facts(values()), "ab".repeat(32));
    assertThat(page)
        .contains(
            "C1: infringes: T01 lies in the cut; whether to cut is for the engineer of record")
        .contains("60 \u00b1 8")
        .contains("metal (90 %)")
        .contains("x 0.00 to 1.00 m, y 0.00 to 0.05 m, below 0 mm: not scanned")
        .contains(
            "1 events above clutter: 0 explained by a finding, 0 rejected with a reason, 1 open.")
        .contains("data:image/png;base64,")
        .contains("End of report");
  }

  @Test
  void rendersProseAndShowsCellsAsTheyStand() {
    assertThat(HtmlReport.of(facts(values()), "ab".repeat(32)))
        .contains("<p>Some <em>prose</em>")
        .contains("var a = 1 &lt; 2;")
        .doesNotContain("<script>");
  }

  @Test
  void escapesWhatTheJobSheetSays() {
    assertThat(HtmlReport.of(facts(values()), "ab".repeat(32)))
        .contains("cores &lt;b&gt;3&lt;/b&gt; &amp; more")
        .doesNotContain("cores <b>3</b>");
  }

  @Test
  void saysThatNoFindingIsNoStatementOfAbsence() {
    assertThat(HtmlReport.of(facts(new TreeMap<>()), "ab".repeat(32)))
        .contains("No finding is recorded. That is no statement that nothing is there.")
        .contains("The notebook does not say what could have been seen.")
        .contains("no conclusion was drawn");
  }

  @Test
  void permitsNothing() {
    String words = HtmlReport.of(facts(values()), "ab".repeat(32))
        .replaceAll("data:image/png;base64,[^\"]*", "")
        .toLowerCase(Locale.ROOT);
    assertThat(words)
        .contains("not a permission")
        .doesNotContain("safe")
        .doesNotContain("clear to")
        .doesNotContain("approved")
        .doesNotContain("green");
  }

  @Test
  void givesTheSamePageTwice() {
    assertThat(HtmlReport.of(facts(values()), "ab".repeat(32)))
        .isEqualTo(HtmlReport.of(facts(values()), "ab".repeat(32)));
  }

  private static TreeMap<String, Object> values() {
    Target target = new Target(
            "T01",
            Point.of(0.4, 0),
            Optional.of(Point.of(0.4, 1)),
            Measured.of(mm(60), "t", mm(4)),
            List.of(mm(60), mm(60)),
            Measured.of(m(0), "a", mm(5)),
            Target.Reference.TOP,
            Measured.of(mm(12), "d", mm(4)),
            Optional.of(deg(90)),
            Optional.empty(),
            new TreeMap<>(),
            Target.Status.PROBABLE,
            "",
            List.of("P:1:01"))
        .withClasses(
            new TreeMap<>(Map.of(TargetClass.METAL, 0.9, TargetClass.NON_METAL, 0.1)),
            "water pipe");
    Event event = new Event(
        "P:1:02",
        "P",
        "1",
        Event.Shape.DIFFRACTION,
        Point.of(0.7, 0),
        Measured.of(mm(700), "x", mm(3)),
        Measured.of(ns(1.5), "t", ns(0.02)),
        Measured.of(mm(75), "z", mm(3)),
        1,
        dB(12),
        0.7,
        deg(10),
        EventState.OPEN,
        "");
    TreeMap<String, Object> values = new TreeMap<>();
    values.put("c/targets", new Targets(List.of(target)));
    values.put("c/ledger", new Events(List.of(event)));
    values.put(
        "c/seen",
        new Visibility(
            List.of(),
            List.of(
                new Visibility.Unseen(Point.of(0, 0), Point.of(1, 0.05), m(0), "not scanned"))));
    values.put("c/scan", scan());
    values.put(
        "c/velocity",
        new VelocityEstimate(
            Measured.of(mPerNs(0.11), "fit", mPerNs(0.002)), "stated", "test", List.of()));
    values.put(
        "c/C1",
        new Conclusion(
            "C1",
            "C1: infringes: T01 lies in the cut; whether to cut is for the engineer of record",
            Verdict.INFRINGES,
            Optional.of(Measured.of(mm(-30), "m", mm(5))),
            Optional.of("T01"),
            new TreeMap<>()));
    return values;
  }

  private static Scan scan() {
    float[] samples = new float[11 * 40];
    samples[5 * 40 + 20] = 1;
    return new Scan(
        "P",
        "1",
        ANTENNA,
        new TimeAxis(ns(0), ns(0.1), 40),
        Track.between(Point.of(0, 0), Point.of(1, 0), 11),
        Samples.of(samples),
        Optional.of(Measured.exact(ns(0.5))),
        Optional.empty(),
        List.of());
  }

  private static RunFacts facts(TreeMap<String, Object> values) {
    SurveyRow row = new SurveyRow(
        "P",
        "1",
        "p.sgy",
        ANTENNA,
        Point.of(0, 0),
        Point.of(1, 0),
        ns(0.1),
        Optional.empty(),
        Optional.empty(),
        new TreeMap<>());
    Cut cut = new Cut(
        "C1",
        Cut.Kind.CORE,
        Point.of(0.4, 0.1),
        Point.of(0.4, 0.1),
        mm(40),
        mm(130),
        mm(50),
        new TreeMap<>());
    JobSheet sheet = new JobSheet(
        "Test slab",
        "cores <b>3</b> & more",
        Optional.of(mm(200)),
        new TreeMap<>(),
        new TreeMap<>());
    Document notebook = Document.parse(
        "interpretation.md", "Some *prose* <script>x</script>\n\n```java c\nvar a = 1 < 2;\n```\n");
    Job job = new Job(
        Path.of("job"),
        sheet,
        new Survey(List.of(row)),
        List.of(cut),
        notebook,
        new TreeMap<>(),
        new TreeMap<>(),
        org.slabnote.engine.job.JobPlugins.NONE);
    List<Demand> demands = List.of(
        new Demand(Demand.Kind.SHOW, "", "c/scan", List.of("c/ledger")),
        new Demand(Demand.Kind.FINDINGS, "", "c/targets", List.of()),
        new Demand(Demand.Kind.LEDGER, "", "c/ledger", List.of()),
        new Demand(Demand.Kind.SEEN, "", "c/seen", List.of()),
        new Demand(Demand.Kind.CONCLUDE, "C1", "c/C1", List.of()));
    return new RunFacts(
        job,
        new Compiled(List.of(), List.of()),
        List.of(),
        List.of(),
        new TreeMap<>(),
        List.of(),
        demands,
        values);
  }
}
