package org.slabnote.engine.run;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowable;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;
import org.slabnote.engine.problem.BadInput;

/** A run that stops, for whatever reason, leaves the record and what is known of the last run as they were. */
class RecordOfCompleteRunsTest {
  @TempDir
  private static Path cache;

  @TempDir
  private static Path complete;

  @TempDir
  private Path folder;

  @BeforeAll
  static void runOnce() throws Exception {
    JobFixture.write(complete, JobFixture.NOTEBOOK);
    JobRunner.of(complete, cache, 2).run(RunListener.NONE);
  }

  /** How a run is stopped. */
  private interface Stop {
    RunListener in(Path job, JobRunner runner) throws IOException;
  }

  private static Arguments stop(String name, Class<?> thrown, Stop stop) {
    return Arguments.of(org.junit.jupiter.api.Named.of(name, thrown), stop);
  }

  private static Stop last(String cell, String limits) {
    return (job, runner) -> {
      Files.writeString(
          job.resolve("interpretation.md"),
          JobFixture.NOTEBOOK + "\n```java last\n" + cell + "\n```\n");
      Path sheet = job.resolve("job.toml");
      Files.writeString(sheet, Files.readString(sheet) + limits);
      return RunListener.NONE;
    };
  }

  private static Stop file(String name, String content) {
    return (job, runner) -> {
      Files.writeString(job.resolve(name), content);
      return RunListener.NONE;
    };
  }

  static Stream<Arguments> stops() {
    String stubborn = "show(run(new Stubborn(across.of(\"E01\"), Stubborn.Mood.%s)));";
    return Stream.of(
        stop("a cell that does not compile", BadInput.class, last("int x = \"\";", "")),
        stop("a cell that may not run", BadInput.class, last("System.exit(0);", "")),
        stop("a cell that throws", BadInput.class, last("int x = List.of(1).get(2);", "")),
        stop("calls without end", BadInput.class, last("int f() { return f(); }\nf();", "")),
        stop(
            "a full memory",
            BadInput.class,
            last(
                "var all = new ArrayList<double[]>();\nwhile (true) { all.add(new double[1000000]); }",
                "[limits]\nmemory_mb = 256\n")),
        stop(
            "a loop without end",
            BadInput.class,
            last("while (true) { }", "[limits]\ntime_s = 3\n")),
        stop("a step that refuses", BadInput.class, last(stubborn.formatted("REFUSE"), "")),
        stop(
            "a scan that is cut short",
            BadInput.class,
            file("scans/E02.txt", "probe 3\n1 2 3\n4 5\n")),
        stop("a job sheet that cannot be read", BadInput.class, file("job.toml", "title = \n")),
        stop("a csv block that is no table", BadInput.class, (job, runner) -> {
          Files.writeString(
              job.resolve("interpretation.md"),
              JobFixture.NOTEBOOK.replace("E01,0.1,1.5", "E01,0.1"));
          return RunListener.NONE;
        }),
        stop("a cancel", RunCancelled.class, (job, runner) -> {
          last(stubborn.formatted("GO_ON"), "").in(job, runner);
          return new RunListener() {
            @Override
            public void step(String address, double share) {
              if (address.contains("stubborn")) {
                runner.cancel();
              }
            }
          };
        }),
        stop("a file that changes while the job runs", BadInput.class, (job, runner) -> {
          Files.writeString(
              job.resolve("interpretation.md"),
              JobFixture.NOTEBOOK.replace("ratio(2)", "ratio(3)"));
          return new RunListener() {
            @Override
            public void step(String address, double share) {
              try {
                Files.writeString(job.resolve("scans/E02.txt"), "probe 3\n-1 -2 -3\n-4 -5 -9\n");
              } catch (IOException e) {
                throw new UncheckedIOException(e);
              }
            }
          };
        }));
  }

  private static Map<String, String> files(Path job) throws IOException {
    Map<String, String> files = new TreeMap<>();
    for (String name : JobFixture.names(job)) {
      if (name.startsWith("interpretation.") && !name.endsWith(".md")) {
        files.put(name, Files.readString(job.resolve(name)));
      }
    }
    return files;
  }

  @ParameterizedTest
  @MethodSource("stops")
  void aStoppedRunLeavesTheRecord(Class<?> thrown, Stop stop) throws Exception {
    Path job = JobFixture.write(folder.resolve("job"), JobFixture.NOTEBOOK);
    for (String name : List.of("interpretation.record.jsonl", "interpretation.digests")) {
      Files.copy(complete.resolve(name), job.resolve(name));
    }
    JobRunner runner = JobRunner.of(job, cache, 2);
    Map<String, String> before = files(job);
    assertThat(before).hasSize(2);
    RunListener listener = stop.in(job, runner);
    assertThat(catchThrowable(() -> runner.run(listener))).isInstanceOf(thrown);
    assertThat(files(job)).isEqualTo(before);
    JobFixture.write(job, JobFixture.NOTEBOOK);
    assertThat(runner.standing().upToDate()).isTrue();
  }
}
