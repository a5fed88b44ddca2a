package org.slabnote.worker.run;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.slabnote.api.Table;
import org.slabnote.worker.Job;
import org.slabnote.worker.RunListener;
import org.slabnote.worker.RunOutcome;
import org.slabnote.worker.RunOutcome.Failure;
import org.slabnote.worker.TapeMaker;

class ReplayFailuresTest {
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

  private Failure failure(TapeMaker cells) {
    RunOutcome outcome = run(cells);
    assertThat(outcome.failures()).hasSize(1);
    assertThat(outcome.complete()).isFalse();
    return outcome.failures().get(0);
  }

  @Test
  void chargesAParameterOutOfRangeToItsLine() {
    Failure f = failure(new TapeMaker()
        .cell("a", 7)
        .let("Steps<Scan>", "x", "scans(ACROSS)\n\n.then(new Scaled(new Ratio(80)))"));
    assertThat(f.kind()).isEqualTo(Failure.Kind.EXCEPTION);
    assertThat(f.text())
        .isEqualTo(
            "cell a, line 9: fake.scaled: factor = 80 is outside 0.1 to 10. Expected: factor");
  }

  /** Its key speaks of the list as it was: computed now, the value would be remembered as another's. */
  @Test
  void refusesAParameterThatChangedAfterItsStepWasStated() {
    Failure f = failure(new TapeMaker()
        .cell("a", 7)
        .let("List<Integer>", "list", "new ArrayList<>(List.of(1))")
        .let("Step<Integer>", "x", "run(new Listed(list))")
        .say("list.set(0, 5); x.get();"));
    assertThat(f.text())
        .isEqualTo("cell a, line 8: step a/x: fake.listed: a parameter changed after the step was "
            + "stated; expected one that stays as it is. State the step after the last change, or give "
            + "it a copy: List.copyOf(...)");
  }

  @Test
  void chargesAStepToTheCellThatStatedIt() {
    Failure f = failure(new TapeMaker()
        .cell("a", 7)
        .let("Step<Table>", "x", "run(new Refuses(\"plainly\"))")
        .cell("b", 20)
        .say("table(\"t\", x);"));
    assertThat(f.text())
        .isEqualTo(
            "cell a, line 7: step a/x: fake.refuses: item 7 does not serve; expected less than 7");
    assertThat(f.address()).isEqualTo("a/x");
  }

  @Test
  void namesThePluginThatThrowsWhatItDidNotMean() {
    Failure f =
        failure(new TapeMaker().cell("a", 7).say("table(\"t\", run(new Refuses(\"badly\")));"));
    assertThat(f.message())
        .isEqualTo(
            "fake.refuses: ArrayIndexOutOfBoundsException: "
                + "Array index out of range: 7 (thrown by org.slabnote.fake.Refuses, line 19; perhaps a fault of that plugin)");
  }

  @Test
  void tellsAllStepsThatFailInTheOrderOfTheNotebook() {
    TapeMaker cells = new TapeMaker()
        .cell("a", 7)
        .say("for (int i = 0; i < 5; i++) { table(\"t\" + i, run(new Refuses(\"plainly\"))); }")
        .say("table(\"good\", run(new Rows(3)));");
    RunOutcome outcome = run(cells);
    assertThat(outcome.failures())
        .extracting(Failure::address)
        .containsExactly(
            "a/fake.refuses.1",
            "a/fake.refuses.2",
            "a/fake.refuses.3",
            "a/fake.refuses.4",
            "a/fake.refuses.5");
    assertThat(outcome.values()).containsOnlyKeys("a/fake.rows.1");
  }

  @Test
  void refusesSwappedOrientationsAtOnce() {
    Failure f = failure(new TapeMaker()
        .cell("a", 7)
        .say(
            "var x = scans(ALONG).then(new Scaled(new Ratio(1)));\nrun(new Peak(x.of(\"E01\")));"));
    assertThat(f.text())
        .isEqualTo("cell a, line 8: fake.peak: scan = a scan treated by fake.scaled, "
            + "which is ALONG; expected ACROSS. Perhaps the two orientations are swapped");
  }

  @Test
  void chargesAnExceptionToTheLineOfTheRunningCell() {
    Failure f = failure(new TapeMaker()
        .cell("tools", 3)
        .declare("third", "public static int third(int[] a) {\nreturn a[3]; }")
        .cell("use", 40)
        .say("int[] a = {1, 2};\nthird(a);"));
    assertThat(f.text())
        .isEqualTo("cell use, line 41: ArrayIndexOutOfBoundsException: "
            + "Index 3 out of bounds for length 2 (thrown in cell tools, line 4)");
    assertThat(f.snippet()).isEqualTo("int[] a = {1, 2};\nthird(a);");
  }

  @Test
  void tellsCallsWithoutEnd() {
    Failure cell = failure(new TapeMaker()
        .cell("a", 3)
        .declare("down", "public static int down(int n) { return 1 + down(n); }")
        .say("down(1);"));
    assertThat(cell.kind()).isEqualTo(Failure.Kind.STACK);
    assertThat(cell.text())
        .isEqualTo(
            "cell a, line 4: calls without end: a method calls itself, directly or by others, and never returns");
    Failure step = failure(new TapeMaker().cell("b", 3).say("run(new Deep(1)).get();"));
    assertThat(step.kind()).isEqualTo(Failure.Kind.STACK);
    assertThat(step.address()).isEqualTo("b/fake.deep.1");
  }

  @Test
  void noSwallowedFailureLetsARunPass() {
    Failure f = failure(new TapeMaker()
        .cell("a", 3)
        .say("try { run(new Refuses(\"plainly\")).get(); } catch (Throwable e) { }")
        .say("table(\"t\", run(new Rows(3)));"));
    assertThat(f.address()).isEqualTo("a/fake.refuses.1");
  }

  @Test
  void refusesTwoTablesOfOneName() {
    Failure f = failure(new TapeMaker()
        .cell("a", 3)
        .say("table(\"t\", run(new Rows(3)));")
        .cell("b", 9)
        .say("table(\"t\", run(new Rows(4)));"));
    assertThat(f.text())
        .isEqualTo("cell b, line 9: table t: stated already in cell a, line 3. "
            + "State it once, or give one of the two another name");
  }

  @Test
  void refusesWhatIsNoStepOrNoOperation() {
    assertThat(failure(new TapeMaker().cell("a", 3).say("run(new Peak(Step.given((Scan) null)));"))
            .message())
        .isEqualTo(
            "fake.peak: scan is no step of this notebook; state it with run(...), then(...) or each(...)");
    assertThat(failure(new TapeMaker().cell("a", 3).say("run(w -> 5);")).message())
        .contains("is no operation; expected a record annotated @Op");
  }

  @Test
  void aFilterNamesNoSources() {
    assertThat(failure(
                new TapeMaker().cell("a", 3).say("show(scan(\"E01\", ACROSS).then(new Loops()));"))
            .message())
        .contains("fake.loops: a filter names no sources of uncertainty")
        .contains("Make it an operation");
  }

  @Test
  void readsPicksAndNamesTheBlock() {
    job.block(
        "picks-E01",
        new Table(List.of(
            new Table.Text("pass", List.of("E01")),
            new Table.Text("distance_m", List.of("0.25")),
            new Table.Text("time_ns", List.of("1.5")))));
    job.block(
        "odd",
        new Table(List.of(
            new Table.Text("pass", List.of("E01")),
            new Table.Text("distance_m", List.of("0,25")),
            new Table.Text("time_ns", List.of("1.5")))));
    RunOutcome outcome = run(
        new TapeMaker()
            .cell("a", 3)
            .say(
                "if (picks(\"picks-E01\").list().get(0).time().value() != 1.5) throw new IllegalStateException();"));
    assertThat(outcome.failures()).isEmpty();
    assertThat(outcome.cells().get(0).blocks()).containsExactly("picks-E01");
    assertThat(failure(new TapeMaker().cell("a", 3).say("picks(\"odd\");")).message())
        .isEqualTo(
            "csv block odd, row 1: distance_m = 0,25; expected a number with a decimal point");
    assertThat(failure(new TapeMaker().cell("a", 3).say("picks(\"none\");")).message())
        .isEqualTo("no csv block none; the notebook has odd, picks-E01");
  }

  @Test
  void tellsScanFilesThatCannotBeRead() throws IOException {
    job.scan("E03", "a", 90, "FAKE 3");
    Failure cut = failure(ReplayTest.whole().cell("more", 60).say("show(scan(\"E03\", ACROSS));"));
    assertThat(cut.kind()).isEqualTo(Failure.Kind.SCAN);
    assertThat(cut.file()).isEqualTo("E03a.txt");
    assertThat(cut.text())
        .isEqualTo("E03a.txt, byte 6: the file is cut short: copy it again from its source");
  }

  @Test
  void namesTheKnownFormatsWhenNoneRecognisesAFile() throws IOException {
    job.scan("E04", "a", 90, "RIFF");
    assertThat(failure(ReplayTest.whole()).text())
        .isEqualTo("E04a.txt: no format recognises it; known are fake.text. "
            + "Export it from the instrument in one of these, or add a plugin that reads it");
  }

  @Test
  void cellsDoNotSeeTheWorker() {
    Failure f = failure(new TapeMaker().cell("a", 3).say("org.slabnote.worker.run.Spy.look();"));
    assertThat(f.message()).isEqualTo("NoClassDefFoundError: org/slabnote/worker/run/Spy");
  }

  @Test
  void stopsAtTheTimeLimitAndOnCancel() throws Exception {
    job.limits(2, 512, 3); // room for a busy machine to reach the cell
    Failure polite =
        failure(new TapeMaker().cell("a", 3).say("table(\"t\", run(new Endless(true)));"));
    assertThat(polite.kind()).isEqualTo(Failure.Kind.TIME);
    assertThat(polite.text())
        .isEqualTo("cell a, line 3: this has not ended after 3 s, the limit of the run. "
            + "Make it do less, or set a higher limit");
    job.limits(2, 512, 60);
    InProcessWorker worker = new InProcessWorker(getClass().getClassLoader());
    RunOutcome outcome = worker.run(
        job.request(new TapeMaker().cell("a", 3).say("run(new Endless(true)).get();")),
        new RunListener() {
          @Override
          public void stepStarted(String address, String operation) {
            worker.cancel();
          }
        });
    assertThat(outcome.failures())
        .extracting(Failure::kind)
        .containsExactly(Failure.Kind.CANCELLED);
  }
}
