package org.slabnote.engine.run;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.slabnote.api.Scan;
import org.slabnote.api.Verdict;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.record.RecordReader;

class JobRunnerTest {
  /** Remembered from test to test, as from run to run. */
  @TempDir
  private static Path cache;

  @TempDir
  private Path folder;

  private Path job;
  private JobRunner runner;

  @BeforeEach
  void makeAJob() throws Exception {
    job = JobFixture.write(folder.resolve("job"), JobFixture.NOTEBOOK);
    runner = runner(2);
  }

  private JobRunner runner(int threads) {
    return JobRunner.of(job, cache, threads);
  }

  @Test
  void aRunGivesItsFindingsAndWritesItsRecord() throws Exception {
    Outcome outcome = runner.run(RunListener.NONE);
    assertThat(outcome.conclusions()).hasSize(1);
    assertThat(outcome.conclusions().get(0).verdict()).isEqualTo(Verdict.NOT_RESOLVED);
    assertThat(outcome.value("clean/across/E01")).get().isInstanceOf(Scan.class);
    assertThat(JobFixture.names(job))
        .containsExactly(
            "cuts.csv",
            "interpretation.digests",
            "interpretation.md",
            "interpretation.record.jsonl",
            "job.toml",
            "scans",
            "survey.csv");
    RecordReader record = runner.record();
    assertThat(record.tables().get("levels").csv())
        .isEqualTo("pass,level_1\nE01,7.000\nE02,-7.000\n");
    assertThat(Files.readString(job.resolve("interpretation.record.jsonl")))
        .contains("\"op\":\"probe.scale/1\",\"over\":[\"E01\",\"E02\"],"
            + "\"params\":{\"factor\":{\"unit\":\"1\",\"value\":2}},\"step\":\"clean/across\"")
        .contains("\"format\":\"probe.text/1\",\"remarks\":[\"read as text\"]")
        .contains("\"reads\":[\"clean/across\"]")
        .contains("\"values\":[\"levels/levels/E01\"]")
        .contains("\"rests_on\":{\"levels/levels/E01#spread\":0.00025}");
  }

  @Test
  void aSecondRunAFreshCacheAndOtherThreadsGiveTheSameBytes() throws Exception {
    runner.run(RunListener.NONE);
    byte[] record = Files.readAllBytes(job.resolve("interpretation.record.jsonl"));
    byte[] digests = Files.readAllBytes(job.resolve("interpretation.digests"));
    Outcome again = JobRunner.of(job, folder.resolve("other"), 1).run(RunListener.NONE);
    assertThat(again.record().record()).isEqualTo(record);
    assertThat(again.record().digests()).isEqualTo(digests);
    assertThat(runner.compute(RunListener.NONE).record().record()).isEqualTo(record);
  }

  @Test
  void recheckTouchesNothingAndTellsTheFirstDifference() throws Exception {
    runner.run(RunListener.NONE);
    List<String> before = JobFixture.names(job);
    assertThat(runner.recheck(RunListener.NONE)).isEqualTo(Optional.empty());
    Files.writeString(job.resolve("scans/E02.txt"), "probe 3\n-1 -2 -3\n-4 -5 -7\n");
    Optional<String> difference = runner.recheck(RunListener.NONE);
    assertThat(difference.orElseThrow())
        .startsWith("interpretation.record.jsonl, line ")
        .contains("input scans/E02.txt: sha256 = ");
    assertThat(JobFixture.names(job)).isEqualTo(before);
  }

  @Test
  void theRecordIsRefusedOnceTheNotebookChanged() throws Exception {
    runner.run(RunListener.NONE);
    assertThat(runner.recorded(RunListener.NONE).facts().values().get("clean/across/E01"))
        .isInstanceOf(Scan.class);
    Files.writeString(
        job.resolve("interpretation.md"), JobFixture.NOTEBOOK.replace("ratio(2)", "ratio(3)"));
    assertThatThrownBy(() -> runner.record())
        .isInstanceOf(BadInput.class)
        .hasMessage("interpretation.record.jsonl: cell clean changed since the record was written. "
            + "Run the job again");
  }

  @Test
  void aParameterOutOfRangeIsToldWithCellAndLine() throws Exception {
    assertRefused(
        JobFixture.NOTEBOOK.replace("ratio(2)", "ratio(20)"),
        "cell clean, line 4: probe.scale: factor = 20 is outside 0.1 to 10. "
            + "Expected: factor of every sample");
  }

  @Test
  void anExceptionInACellIsToldWithCellAndLine() throws Exception {
    assertRefused(
        JobFixture.NOTEBOOK.replace(
            "var first", "List<Integer> none = List.of();\nint x =\n    none.get(0);\nvar first"),
        "cell levels, line 16: ArrayIndexOutOfBoundsException: Index 0 out of bounds for length 0");
  }

  @Test
  void anOperationThatRefusesIsChargedToTheCellThatStatedIt() throws Exception {
    assertRefused(
        JobFixture.NOTEBOOK
            + "\n```java last\nshow(run(new Stubborn(across.of(\"E01\"), Stubborn.Mood.REFUSE)));\n```\n",
        "cell last, line 26: probe.stubborn: scan E01 has 2 traces; "
            + "expected none. Leave it out");
  }

  @Test
  void aTruncatedScanIsToldWithFileAndPlace() throws Exception {
    Files.writeString(job.resolve("scans/E02.txt"), "probe 3\n-1 -2 -3\n-4 -5\n");
    assertRefused(
        JobFixture.NOTEBOOK,
        "scans/E02.txt, trace 2: 3 samples expected, the line has 2. "
            + "The file is cut short: copy it again from its source");
  }

  @Test
  void aCsvBlockThatIsNoTableIsToldWithItsLine() throws Exception {
    assertRefused(
        JobFixture.NOTEBOOK.replace("E01,0.1,1.5", "E01,0.1"),
        "cell hand-picks, line 9: 2 values; expected 3, one for each column of the header. "
            + "Add or remove a comma");
  }

  @Test
  void noCellIsCalledDoneWhenTheRunStopped() throws Exception {
    Files.writeString(job.resolve("scans/E02.txt"), "probe 3\n-1 -2 -3\n-4 -5\n");
    List<String> heard = new ArrayList<>();
    RunListener hears = new RunListener() {
      @Override
      public void cell(String cell, CellState state) {
        synchronized (heard) {
          heard.add(cell + " " + state.words());
        }
      }
    };
    assertThatThrownBy(() -> runner.run(hears)).isInstanceOf(BadInput.class);
    assertThat(heard)
        .noneMatch(words -> words.endsWith(" done"))
        .contains("levels not run to its end: something else stopped the run");
  }

  @Test
  void aCancelledRunWritesNothing() throws Exception {
    String endless = JobFixture.NOTEBOOK
        + "\n```java last\nshow(run(new Stubborn(across.of(\"E01\"), Stubborn.Mood.GO_ON)));\n```\n";
    Files.writeString(job.resolve("interpretation.md"), endless);
    RunListener cancels = new RunListener() {
      @Override
      public void step(String address, double share) {
        if (address.contains("stubborn")) {
          runner.cancel();
        }
      }
    };
    assertThatThrownBy(() -> runner.run(cancels)).isInstanceOf(RunCancelled.class);
    assertThat(JobFixture.names(job)).noneMatch(name -> name.contains("record"));
  }

  @Test
  void aCancelBeforeTheCellsAreCompiledIsHeard() throws Exception {
    RunListener cancels = new RunListener() {
      @Override
      public void stage(String words) {
        if (words.startsWith("compiling")) {
          runner.cancel();
        }
      }
    };
    assertThatThrownBy(() -> runner.run(cancels)).isInstanceOf(RunCancelled.class);
    runner.run(RunListener.NONE);
  }

  @Test
  void aCellThatNeverEndsIsToldWithinItsLimit() throws Exception {
    Path sheet = job.resolve("job.toml");
    Files.writeString(sheet, Files.readString(sheet) + "[limits]\ntime_s = 3\n");
    Files.writeString(
        job.resolve("interpretation.md"),
        JobFixture.NOTEBOOK.replace("var first", "while (true) {\n}\nvar first"));
    assertThatThrownBy(() -> runner.run(RunListener.NONE))
        .isInstanceOf(BadInput.class)
        .hasMessageStartingWith("cell levels, line 14: ")
        .hasMessageContaining("3 s");
  }

  @Test
  void cellsGoFromWaitingToDone() throws Exception {
    List<String> heard = new ArrayList<>();
    runner.run(new RunListener() {
      @Override
      public void cell(String cell, CellState state) {
        synchronized (heard) {
          heard.add(cell + " " + state.words());
        }
      }
    });
    assertThat(heard)
        .contains("clean not run yet", "clean running", "clean done", "conclusions done");
  }

  private void assertRefused(String notebook, String message) throws Exception {
    Files.writeString(job.resolve("interpretation.md"), notebook);
    assertThatThrownBy(() -> runner.run(RunListener.NONE))
        .isInstanceOf(BadInput.class)
        .hasMessage(message);
    assertThat(JobFixture.names(job))
        .containsExactly("cuts.csv", "interpretation.md", "job.toml", "scans", "survey.csv");
  }
}
