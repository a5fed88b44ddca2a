package org.slabnote.engine.run;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowable;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.slabnote.engine.problem.BadInput;

/** Whatever a cell or a step does to the worker, the session goes on with what was remembered. */
class SurvivalTest {
  private static final int LAST_LINE = 27;

  @TempDir
  private Path folder;

  private Path job;
  private JobRunner runner;
  private byte[] record = new byte[0];

  /** Hears which steps begin to be computed. */
  private static final class Counts implements RunListener {
    private final List<String> begun = Collections.synchronizedList(new ArrayList<>());

    @Override
    public void step(String address, double share) {
      if (share == 0) {
        begun.add(address);
      }
    }
  }

  @BeforeEach
  void runsOnce() throws Exception {
    job = JobFixture.write(folder.resolve("job"), JobFixture.NOTEBOOK);
    Path sheet = job.resolve("job.toml");
    Files.writeString(sheet, Files.readString(sheet) + "[limits]\ntime_s = 4\nmemory_mb = 256\n");
    runner = JobRunner.of(job, folder.resolve("cache"), 2);
  }

  @AfterEach
  void close() {
    runner.close();
  }

  private byte[] recorded() throws IOException {
    Path file = job.resolve("interpretation.record.jsonl");
    return Files.exists(file) ? Files.readAllBytes(file) : new byte[0];
  }

  /** Runs the notebook with one more cell, then as it was: all is remembered, and the record the same. */
  private String survives(String statements) throws Exception {
    Files.writeString(
        job.resolve("interpretation.md"),
        JobFixture.NOTEBOOK + "\n```java last\nint before = 1;\n" + statements + "\n```\n");
    byte[] before = recorded();
    Throwable thrown = catchThrowable(() -> runner.run(RunListener.NONE));
    assertThat(thrown).as(statements).isInstanceOf(BadInput.class);
    assertThat(recorded()).as("the record on the disk").isEqualTo(before);
    Files.writeString(job.resolve("interpretation.md"), JobFixture.NOTEBOOK);
    Counts counts = new Counts();
    Outcome outcome = runner.run(counts);
    if (record.length == 0) {
      record = outcome.record().record();
    }
    assertThat(outcome.record().record()).isEqualTo(record);
    // What the cells got before the odd one was computed and written then; only what they demand
    // at the end may be new.
    assertThat(counts.begun).as(statements).doesNotContain("levels/levels/E01");
    return String.valueOf(thrown.getMessage());
  }

  @Test
  void aCellThatLoopsOrCallsWithoutEnd() throws Exception {
    String limit = "this has not ended after 4 s, the limit of the run. "
        + "Make it do less, or set a higher limit: time_s under [limits] in job.toml";
    assertThat(survives("for (;;) {\n  try {\n    before++;\n  } finally {\n    continue;\n  }\n}"))
        .startsWith("cell last, line ")
        .endsWith(limit);
    assertThat(survives("long n = Stream.iterate(1, x -> x + 1).filter(x -> x < 0).count();"))
        .isEqualTo("cell last, line " + LAST_LINE + ": " + limit);
    assertThat(survives("int deep(int i) { return deep(i + 1) + 1; }\nint d = deep(0);"))
        .isEqualTo("cell last, line 28: calls without end: a method calls itself, directly or by "
            + "others, and never returns");
  }

  @Test
  void anOperationOfACellThatLoops() throws Exception {
    assertThat(survives("@Op(id = \"cell.turns\", revision = 1, purpose = Purpose.MODEL)\n"
            + "record Turns(Step<Scan> scan) implements Operation<Table> {\n"
            + "  public Table apply(Work work) {\n"
            + "    int i = 0;\n"
            + "    while (true) { try { i++; } catch (RuntimeException e) { } }\n"
            + "  }\n"
            + "}\n"
            + "table(\"turns\", run(new Turns(across.of(\"E01\"))));"))
        .startsWith("cell last, line 34: ")
        .contains("has not ended after 4 s");
  }

  @Test
  void aCellOrAStepThatTakesAllMemory() throws Exception {
    String full =
        "the memory of the worker, 256 MB, is full. Compute less at once, or give the run "
            + "more: memory_mb under [limits] in job.toml";
    assertThat(survives("List<long[]> all = new ArrayList<>();\nwhile (true) {\n"
            + "  all.add(new long[1 << 20]);\n}"))
        .isEqualTo("cell last, line 29: " + full);
    assertThat(survives("show(run(new Stubborn(across.of(\"E01\"), Stubborn.Mood.EAT)));"))
        .isEqualTo("cell last, line " + LAST_LINE + ": probe.stubborn: " + full);
  }

  @Test
  void aStepThatOverflowsTheStackOrEndsTheWorker() throws Exception {
    assertThat(survives("show(run(new Stubborn(across.of(\"E01\"), Stubborn.Mood.CALL)));"))
        .startsWith("cell last, line " + LAST_LINE + ": probe.stubborn: calls without end");
    assertThat(survives("show(run(new Stubborn(across.of(\"E01\"), Stubborn.Mood.END)));"))
        .startsWith(
            "cell last, line " + LAST_LINE
                + ": step last/probe.stubborn.1: probe.stubborn: the worker process ended by itself (exit status 7)");
  }
}
