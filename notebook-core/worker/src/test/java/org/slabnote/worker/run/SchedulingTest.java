package org.slabnote.worker.run;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ConcurrentMap;
import org.junit.jupiter.api.Assertions;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.slabnote.worker.Job;
import org.slabnote.worker.Planned;
import org.slabnote.worker.RunListener;
import org.slabnote.worker.RunOutcome;
import org.slabnote.worker.TapeMaker;

class SchedulingTest {
  @TempDir
  Path folder;

  private RunOutcome run(Job job, TapeMaker cells, RunListener listener) {
    return Assertions.assertTimeoutPreemptively(
        Duration.ofSeconds(60),
        () -> new InProcessWorker(getClass().getClassLoader()).run(job.request(cells), listener));
  }

  /** Loops in loops on every thread at once: each caller works through its own items. */
  @Test
  void loopsWithinLoopsNeverWaitForAFreeThread() throws IOException {
    for (int threads : new int[] {1, 2, 5}) {
      Job job = new Job(folder).limits(threads, 512, 60);
      RunOutcome outcome = run(
          job,
          new TapeMaker()
              .cell("a", 1)
              .say("for (int i = 1; i <= 200; i++) table(\"t\" + i, run(new Rows(1 + i % 40)));"),
          RunListener.NONE);
      assertThat(outcome.failures()).isEmpty();
      assertThat(outcome.values()).hasSize(200);
    }
  }

  /** Two steps that wait for each other end only when both are computed at once. */
  @Test
  void computesIndependentStepsAtTheSameTime() throws IOException {
    RunOutcome outcome = run(
        new Job(folder).limits(2, 512, 60),
        new TapeMaker()
            .cell("a", 1)
            .say("show(run(new Meets(1)), run(new Meets(2)), run(new Rows(3)));"),
        RunListener.NONE);
    assertThat(outcome.failures()).isEmpty();
    assertThat(outcome.values()).hasSize(3);
  }

  /** What is to be computed is told with the size of the scans that it comes from, and nothing else is. */
  @Test
  void tellsWhatIsToBeComputedAndNothingThatNobodyDemands() throws IOException {
    List<Planned> told = new ArrayList<>();
    TapeMaker cells = new TapeMaker()
        .cell("a", 1)
        .let("Steps<Scan>", "all", "scans(ACROSS).then(new Scaled(new Ratio(2)))")
        .let("Steps<Scan>", "unused", "all.then(new Scaled(new Ratio(3)))")
        .say("show(all.of(\"E01\"));");
    RunListener hears = new RunListener() {
      @Override
      public void planned(List<Planned> steps) {
        told.addAll(steps);
      }
    };
    assertThat(run(new Job(folder), cells, hears).failures()).isEmpty();
    assertThat(told).extracting(Planned::address).containsExactly("scan/E01/a", "a/all/E01");
    assertThat(told).extracting(Planned::bytes).containsOnly((long) "FAKE 3 4 10".length());
    assertThat(told.get(1).inputs()).containsExactly("scan/E01/a");
    told.clear();
    assertThat(run(new Job(folder), cells, hears).failures()).isEmpty();
    assertThat(told).as("remembered").isEmpty();
  }

  @Test
  void computesALongChainOnce() throws IOException {
    ConcurrentMap<String, Integer> started = new ConcurrentHashMap<>();
    RunOutcome outcome = run(
        new Job(folder),
        new TapeMaker()
            .cell("a", 1)
            .let("Step<Scan>", "first", "scan(\"E01\", ACROSS)")
            .say(
                "Step<Scan> s = first; for (int i = 0; i < 3000; i++) { s = s.then(new Scaled(new Ratio(1))); } show(s, first);"),
        new RunListener() {
          @Override
          public void stepStarted(String address, String operation) {
            started.merge(address, 1, Integer::sum);
          }
        });
    assertThat(outcome.failures()).isEmpty();
    assertThat(started).hasSize(3001).allSatisfy((address, n) -> assertThat(n).isEqualTo(1));
  }

  @Test
  void aFailureLeavesWhatDoesNotHangOnItAlone() throws IOException {
    RunOutcome outcome = run(
        new Job(folder),
        new TapeMaker()
            .cell("a", 1)
            .declare(
                "Both",
                "@Op(id = \"both\", revision = 1, purpose = Purpose.MODEL) public record Both(Step<Table> a, Step<Table> b) "
                    + "implements Operation<Table> { public Table apply(Work w) { return a.get(); } }")
            .let("Step<Table>", "good", "run(new Rows(3))")
            .let("Step<Table>", "bad", "run(new Refuses(\"plainly\"))")
            .let("Step<Table>", "both", "run(new Both(good, bad))")
            .say(
                "table(\"good\", good); table(\"bad\", bad); table(\"both\", both); table(\"again\", run(new Both(both, good)));"),
        RunListener.NONE);
    assertThat(outcome.failures()).extracting(RunOutcome.Failure::address).containsExactly("a/bad");
    assertThat(outcome.values()).containsOnlyKeys("a/good");
    assertThat(outcome.steps()).hasSize(4).allMatch(RunOutcome.StepFact::needed);
  }

  @Test
  void anOperationReadsItsInputsOnly() throws IOException {
    RunOutcome outcome = run(
        new Job(folder),
        new TapeMaker()
            .cell("a", 1)
            .let("Step<Table>", "other", "run(new Rows(3))")
            .declare(
                "Peeks",
                "@Op(id = \"peeks\", revision = 1, purpose = Purpose.MODEL) public record Peeks() "
                    + "implements Operation<Table> { public Table apply(Work w) { return other.get(); } }")
            .say("table(\"t\", run(new Peeks()));"),
        RunListener.NONE);
    assertThat(outcome.failures())
        .extracting(RunOutcome.Failure::message)
        .isEqualTo(List.of(
            "peeks: step a/other was asked for by an operation that does not have it as an input. "
                + "Make it a component of the operation's record (thrown in cell a, line 2)"));
  }
}
