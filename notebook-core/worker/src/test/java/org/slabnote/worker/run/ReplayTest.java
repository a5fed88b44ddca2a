package org.slabnote.worker.run;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.slabnote.api.Conclusion;
import org.slabnote.api.Orientation;
import org.slabnote.api.Scan;
import org.slabnote.api.Table;
import org.slabnote.api.codec.Canonical;
import org.slabnote.api.quantity.Measured;
import org.slabnote.api.quantity.Ratio;
import org.slabnote.fake.Peak;
import org.slabnote.fake.Scaled;
import org.slabnote.worker.Job;
import org.slabnote.worker.RunListener;
import org.slabnote.worker.RunOutcome;
import org.slabnote.worker.RunOutcome.Demand;
import org.slabnote.worker.RunOutcome.StepFact;
import org.slabnote.worker.TapeMaker;
import org.slabnote.worker.store.ValueReader;

class ReplayTest {
  @TempDir
  Path folder;

  private Job job;

  @BeforeEach
  void makeJob() throws IOException {
    job = new Job(folder);
  }

  private RunOutcome run(TapeMaker cells) {
    return new InProcessWorker(getClass().getClassLoader())
        .run(job.request(cells), RunListener.NONE);
  }

  static TapeMaker whole() {
    return new TapeMaker()
        .cell("setup", 12)
        .let(
            "Steps<Scan>",
            "across",
            "scans(ACROSS)\n.then(new Scaled(new Ratio(2))).then(new Scaled(new Ratio(0.5)))")
        .let("Step<Scan>", "clean", "across.of(\"E02\")")
        .cell("sums", 30)
        .let("Steps<Measured<Length>>", "peaks", "across.each(s -> new Peak(s))")
        .let("Step<Measured<Length>>", "total", "run(new Total(peaks))")
        .let("double", "number", "total.get().value().value()")
        .say("show(clean, total); if (number > 0) table(\"rows\", run(new Rows((int) number)));")
        .cell("end", 50)
        .say("conclude(\"C1\", run(new Verdicts(total)));");
  }

  private static List<String> addresses(RunOutcome outcome) {
    return outcome.steps().stream().map(StepFact::address).toList();
  }

  @Test
  void namesStepsByCellVariableAndPass() {
    RunOutcome outcome = run(whole());
    assertThat(outcome.failures()).isEmpty();
    assertThat(addresses(outcome))
        .containsExactly(
            "scan/E01/a",
            "scan/E02/a",
            "setup/across/fake.scaled.1/E01",
            "setup/across/fake.scaled.1/E02",
            "setup/across/E01",
            "setup/across/E02",
            "sums/peaks/E01",
            "sums/peaks/E02",
            "sums/total",
            "sums/fake.rows.1",
            "end/fake.verdicts.1");
    StepFact clean = outcome.steps().get(5);
    assertThat(clean.family()).isEqualTo("setup/across");
    assertThat(clean.member()).isEqualTo("E02");
    assertThat(clean.kind()).isEqualTo(StepFact.Kind.FILTER);
    assertThat(clean.operation()).isEqualTo("fake.scaled");
    assertThat(clean.revision()).isEqualTo(3);
    assertThat(clean.owner()).isEqualTo("fake");
    assertThat(clean.parameters()).isEqualTo(Map.of("factor", new Ratio(0.5)));
    assertThat(clean.inputs().get(0).addresses()).containsExactly("setup/across/fake.scaled.1/E02");
    assertThat(clean.orientation()).contains(Orientation.ACROSS);
    assertThat(clean.line()).isEqualTo(13);
    assertThat(clean.cell()).isEqualTo("setup");
    assertThat(outcome.steps().get(0).operation()).isEqualTo("fake.text");
  }

  /** Peaks by hand: samples 10 + k mod 7 for 12 samples, 30 + k mod 7 for 10: 16 and 36. */
  @Test
  void tellsDemandsValuesAndWhatTheyRestOn() {
    RunOutcome outcome = run(whole());
    assertThat(outcome.demands())
        .extracting(Demand::kind)
        .containsExactly(
            Demand.Kind.GOT, Demand.Kind.SHOW, Demand.Kind.TABLE, Demand.Kind.CONCLUDE);
    assertThat(outcome.demands().get(1))
        .isEqualTo(new Demand(
            Demand.Kind.SHOW, "", "sums", 33, "setup/across/E02", List.of("sums/total")));
    assertThat(outcome.values())
        .containsOnlyKeys(
            "setup/across/E02", "sums/total", "sums/fake.rows.1", "end/fake.verdicts.1");
    Measured<?> total = (Measured<?>) outcome.values().get("sums/total").value().orElseThrow();
    assertThat(total.value().value()).isEqualTo(52);
    assertThat(total.budget()).containsOnlyKeys("sums/peaks/E01#reading", "sums/peaks/E02#reading");
    Table rows = (Table) outcome.values().get("sums/fake.rows.1").value().orElseThrow();
    assertThat(rows.rows()).isEqualTo(52);
    RunOutcome.Basis basis = outcome.bases().get("C1");
    assertThat(basis.sources())
        .isEqualTo(new TreeMap<>(Map.of(
            "sums/peaks/E01#reading",
            0.5,
            "sums/peaks/E02#reading",
            0.5,
            "end/fake.verdicts.1#slab",
            0.25)));
    assertThat(basis.upstream())
        .hasSize(9)
        .contains("scan/E01/a", "sums/total")
        .doesNotContain("end/fake.verdicts.1", "sums/fake.rows.1");
    assertThat(outcome.cells())
        .extracting(RunOutcome.CellFact::got)
        .containsExactly(List.of(), List.of("sums/total"), List.of());
    assertThat(outcome.values().get("end/fake.verdicts.1").value().orElseThrow())
        .isInstanceOf(Conclusion.class);
  }

  /** By hand: 10 samples 30 to 36, then 30, 31, 32. */
  @Test
  void statesTheNumbersOfAScanInShort() {
    RunOutcome.Statistics s = run(whole()).values().get("setup/across/E02").statistics();
    assertThat(s.count()).isEqualTo(10);
    assertThat(s.min()).isEqualTo(30);
    assertThat(s.max()).isEqualTo(36);
    double squares = 0;
    for (int x : new int[] {30, 31, 32, 33, 34, 35, 36, 30, 31, 32}) {
      squares += x * x;
    }
    assertThat(s.rms()).isEqualTo(Math.sqrt(squares / 10));
    assertThat(s.samples().size()).isEqualTo(10);
    assertThat(s.samples().get(9)).isEqualTo(32);
  }

  @Test
  void remembersAndGivesEqualBytes() {
    RunOutcome first = run(whole());
    int scaled = Scaled.RUNS.get();
    int peaks = Peak.RUNS.get();
    RunOutcome second = run(whole());
    assertThat(Canonical.digest(second)).isEqualTo(Canonical.digest(first));
    assertThat(Scaled.RUNS.get()).isEqualTo(scaled);
    assertThat(Peak.RUNS.get()).isEqualTo(peaks);
  }

  @Test
  void givesEqualBytesWithAnyNumberOfThreads() {
    String one = Canonical.digest(run(whole()));
    for (int threads : new int[] {1, 3, 8}) {
      job.limits(threads, 512, 60);
      org.slabnote.worker.run.Folders.delete(job.store());
      assertThat(Canonical.digest(run(whole()))).isEqualTo(one);
    }
  }

  @Test
  void recomputesWhatAnEditReachesAndNothingElse() {
    run(whole());
    int peaks = Peak.RUNS.get();
    RunOutcome renamed = run(new TapeMaker()
        .cell("setup", 12)
        .let(
            "Steps<Scan>",
            "across",
            "scans(ACROSS)\n.then(new Scaled(new Ratio(2))).then(new Scaled(new Ratio(0.5)))")
        .cell("sums", 30)
        .let("Steps<Measured<Length>>", "tops", "across.each(s -> new Peak(s))")
        .say("show(tops.of(\"E01\"));"));
    assertThat(renamed.failures()).isEmpty();
    assertThat(Peak.RUNS.get())
        .as("the address is part of an operation's key")
        .isEqualTo(peaks + 1);
  }

  @Test
  void doesNotComputeWhatNobodyDemands() {
    int peaks = Peak.RUNS.get();
    RunOutcome outcome = run(new TapeMaker()
        .cell("a", 2)
        .let("Steps<Measured<Length>>", "peaks", "scans(ACROSS).each(s -> new Peak(s))")
        .say("show(peaks.of(\"E01\"));"));
    assertThat(Peak.RUNS.get()).isEqualTo(peaks + 1);
    assertThat(outcome.steps().get(3).needed()).isFalse();
    assertThat(outcome.steps().get(3).key()).isEmpty();
  }

  @Test
  void computesMoreStepsForAFrontEnd() {
    job.more("setup/across/E01", "gone/step");
    RunOutcome outcome = run(whole());
    ValueReader reader = new ValueReader(job.store(), getClass().getClassLoader());
    assertThat(((Scan) reader.of(outcome, "setup/across/E01").orElseThrow()).history())
        .hasSize(2);
    assertThat(outcome.demands()).extracting(Demand::address).doesNotContain("setup/across/E01");
    job.more();
    assertThat(run(whole()).values()).doesNotContainKey("setup/across/E01");
    StepFact shown = outcome.steps().get(5);
    assertThat(reader.byKey(shown.key()).orElseThrow()).isInstanceOf(Scan.class);
  }

  @Test
  void namesAStepDemandedWithinItsStatementByOrdinal() {
    RunOutcome outcome = run(new TapeMaker()
        .cell("a", 2)
        .let(
            "double",
            "x",
            "run(new Peak(scan(\"E01\", ACROSS))).get().value().value() + run(new Peak(scan(\"E02\", ACROSS))).get().value().value()")
        .say("run(new Rows(1)).get();"));
    assertThat(outcome.failures()).isEmpty();
    assertThat(addresses(outcome))
        .containsExactly(
            "scan/E01/a", "a/x/fake.peak.1", "scan/E02/a", "a/x/fake.peak.2", "a/fake.rows.1");
  }

  @Test
  void tellsValuesOfOtherTypesInPlainForm() {
    RunOutcome outcome =
        run(new TapeMaker().cell("a", 2).say("run(new Named(Named.Colour.BLUE)).get();"));
    Object value = outcome.values().get("a/fake.named.1").value().orElseThrow();
    assertThat(value).isInstanceOf(Map.class);
    assertThat(((Map<?, ?>) value).get("colour")).isEqualTo("BLUE");
    assertThat(outcome.steps().get(0).parameters()).isEqualTo(Map.of("colour", "BLUE"));
  }

  @Test
  void runsAnOperationThatACellDeclares() {
    String code =
        "@Op(id = \"twice\", revision = 1, purpose = Purpose.MODEL) public record Twice(Step<Measured<Length>> of) "
            + "implements Operation<Measured<Length>> { public Measured<Length> apply(Work work) { return of.get().times(FACTOR); } }";
    TapeMaker cells = new TapeMaker()
        .cell("mine", 4)
        .declare("Twice", code.replace("FACTOR", "2"))
        .let(
            "Step<Measured<Length>>",
            "twice",
            "run(new Twice(run(new Peak(scan(\"E01\", ACROSS)))))")
        .say("twice.get();");
    RunOutcome outcome = run(cells);
    assertThat(outcome.failures()).isEmpty();
    StepFact step = outcome.steps().get(2);
    assertThat(step.address()).isEqualTo("mine/twice");
    assertThat(step.owner()).isEmpty();
    assertThat(step.operation()).isEqualTo("twice");
    Measured<?> value = (Measured<?>) outcome.values().get("mine/twice").value().orElseThrow();
    assertThat(value.value().value()).isEqualTo(32);
    RunOutcome changed = run(new TapeMaker()
        .cell("mine", 4)
        .declare("Twice", code.replace("FACTOR", "3"))
        .let(
            "Step<Measured<Length>>",
            "twice",
            "run(new Twice(run(new Peak(scan(\"E01\", ACROSS)))))")
        .say("twice.get();"));
    Measured<?> other = (Measured<?>) changed.values().get("mine/twice").value().orElseThrow();
    assertThat(other.value().value()).isEqualTo(48);
  }

  @Test
  void tellsNothingOfAValueThatIsNotThere() {
    assertThat(
            new ValueReader(job.store(), getClass().getClassLoader()).of(run(whole()), "no/step"))
        .isEqualTo(Optional.empty());
  }
}
