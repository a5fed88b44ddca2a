package org.slabnote.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.slabnote.api.Table;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.run.JobRunner;
import org.slabnote.engine.run.Outcome;
import org.slabnote.engine.run.RunListener;
import org.slabnote.engine.run.Standing;

/** Run, recheck, table and report on a real job with a short notebook. */
class RunCommandTest {
  private static final String NOTEBOOK = """
      # Bay 4

      ```java cleaning
      var across = scans(ACROSS);
      var base = across.each(across.each(s -> new SurfaceTime(s)), (s, t) -> new AtSurface(s, t));
      ```

      ```java velocity
      var velocity = run(new StatedPermittivity(ratio(7), ratio(0.7), "a core beside the bay"));
      table("velocity", run(new VelocityTable(velocity)));
      velocity.get();
      show(base.of("E01"));
      ```
      """;

  @TempDir
  @SuppressWarnings("NullAway.Init")
  Path folder;

  @SuppressWarnings("NullAway.Init")
  private Path job;

  @BeforeEach
  void make() throws Exception {
    job = folder.resolve("bay-4");
    Path survey = Slab.survey(folder, Slab.ONE_PASS);
    assertThat(Said.of("new", job.toString(), "-s", survey.toString()).status()).isZero();
    Files.writeString(job.resolve("interpretation.md"), NOTEBOOK);
  }

  /** The engine with a cache folder of the test's own. */
  private Bench engine() {
    return new FakeBench() {
      private JobRunner runner(Path job) {
        return JobRunner.of(job, folder.resolve("cache"), 2);
      }

      @Override
      public Outcome run(Path job, RunListener listener) throws BadInput {
        return runner(job).run(listener);
      }

      @Override
      public Standing standing(Path job) throws BadInput {
        return runner(job).standing();
      }

      @Override
      public Optional<String> recheck(Path job, RunListener listener) throws BadInput {
        return runner(job).recheck(listener);
      }

      @Override
      public Map<String, Table> tables(Path job) throws BadInput {
        return runner(job).record().tables();
      }

      @Override
      public Outcome recorded(Path job, RunListener listener) throws BadInput {
        return runner(job).recorded(listener);
      }
    };
  }

  private Said say(String... arguments) {
    return Said.of(engine(), arguments);
  }

  private void change(String from, String to) throws IOException {
    Path notebook = job.resolve("interpretation.md");
    String before = Files.readString(notebook);
    assertThat(before).contains(from);
    Files.writeString(notebook, before.replace(from, to));
  }

  private Map<String, Long> files() throws IOException {
    try (Stream<Path> walk = Files.walk(job)) {
      return walk.filter(Files::isRegularFile)
          .collect(Collectors.toMap(
              f -> job.relativize(f).toString(),
              f -> f.toFile().length(),
              Long::sum,
              TreeMap::new));
    }
  }

  @Test
  void runsWritesTheRecordAndPrintsResultsOnly() throws Exception {
    Said said = say("run", job.toString());
    assertThat(said.out()).isEqualTo("""
            bay-4

            Velocity
              0.1133 m/ns +- 0.0113, permittivity 7.00 +- 1.40: stated permittivity; a core
              beside the bay

            Cautions
              Radar never proves absence. These are interpretations with the uncertainty
              stated, not a permission: whether and where to cut is for the engineer of
              record and those who are licensed to decide it, under the local codes. Treat
              what could not be seen as unknown.

            Record: JOB/interpretation.record.jsonl
            Report: slabnote report JOB
            """.replace("JOB", job.toString()));
    assertThat(said.err()).contains("cell cleaning: done\n", "cell velocity: done\n");
    assertThat(said.status()).isZero();
    assertThat(files()).containsKeys("interpretation.record.jsonl", "interpretation.digests");
    assertThat(say("table", job.toString()).out())
        .isEqualTo("name      rows  columns\nvelocity     1  method,v_m_per_ns,v_u_m_per_ns,"
            + "permittivity,permittivity_u,evidence\n");
    assertThat(say("table", job.toString(), "velocity").out())
        .startsWith("method,v_m_per_ns,v_u_m_per_ns,permittivity,permittivity_u,evidence\n");
  }

  @Test
  void recheckFindsTheSameAndTouchesNothing() throws Exception {
    say("run", job.toString());
    Map<String, Long> before = files();
    Said said = say("recheck", job.toString());
    assertThat(said.out())
        .isEqualTo("same: a clean run from the scans gives the record, byte for byte\n");
    assertThat(said.status()).isZero();
    assertThat(files()).isEqualTo(before);
  }

  @Test
  void anEditAfterTheRunTurnsRecheckTableAndReportToStatus1() throws Exception {
    say("run", job.toString());
    change("ratio(7)", "ratio(8)");
    Said recheck = say("recheck", job.toString());
    assertThat(recheck.status()).isEqualTo(1);
    assertThat(recheck.out())
        .startsWith("differs: interpretation.record.jsonl, line ")
        .contains("cell velocity");
    for (String command : new String[] {"table", "report"}) {
      Said said = say(command, job.toString());
      assertThat(said.status()).isEqualTo(1);
      assertThat(said.err())
          .isEqualTo(
              "interpretation.record.jsonl: cell velocity changed since the record was written."
                  + " Run the job again\n");
      assertThat(said.out()).isEmpty();
    }
    assertThat(job.resolve("report.html")).doesNotExist();
  }

  @Test
  void statusTellsWhatIsOutOfDateAndRunWhyTellsWhatItComputed() throws Exception {
    assertThat(say("status", job.toString()).out())
        .isEqualTo(
            "out of date: interpretation.record.jsonl does not tell of the job as it stands\n"
                + "  there is no record yet: no run of the job was complete\n");
    say("run", job.toString());
    Said said = say("status", job.toString());
    assertThat(said.out())
        .isEqualTo("up to date: interpretation.record.jsonl tells of the job as it stands\n");
    assertThat(said.status()).isZero();
    change("ratio(7)", "ratio(8)");
    said = say("status", "--steps", job.toString());
    assertThat(said.out())
        .isEqualTo(
            "out of date: interpretation.record.jsonl does not tell of the job as it stands\n"
                + "  cell `velocity`: it was edited\n"
                + "    velocity/velocity\n"
                + "    velocity/tables.velocity.1\n");
    assertThat(said.status()).isEqualTo(1);
    assertThat(say("run", "--why", job.toString()).out())
        .endsWith("\nComputed in this run\n  cell `velocity`: parameter permittivity of "
            + "velocity.stated-permittivity changed from 7 to 8 (line 9) [2 steps]\n");
    assertThat(say("run", "--why", job.toString()).out())
        .endsWith("\nComputed in this run\n  nothing: every step was remembered\n");
    change("ratio(8)", "ratio(8");
    said = say("status", job.toString());
    assertThat(said.status()).isEqualTo(1);
    assertThat(said.out()).endsWith("  cell `velocity`: it was edited\n");
    assertThat(said.err())
        .startsWith("The job cannot be run as it stands:\ncell velocity, line 9: ");
    Files.delete(job.resolve("survey.csv"));
    assertThat(say("status", job.toString()).status()).isEqualTo(2);
  }

  @Test
  void writesTheReportBesideTheRecordOrWhereItIsTold() throws Exception {
    say("run", job.toString());
    Said said = say("report", job.toString());
    assertThat(said.out()).isEqualTo("Report: " + job.resolve("report.html") + "\n");
    String page = Files.readString(job.resolve("report.html"));
    assertThat(page).startsWith("<!DOCTYPE html>").contains("bay-4", "a core beside the bay");
    assertThat(say("report", job.toString(), "--output", "-").out()).isEqualTo(page);
    Path nowhere = folder.resolve("none/report.html");
    Said refused = say("report", job.toString(), "-o", nowhere.toString());
    assertThat(refused.status()).isEqualTo(2);
    assertThat(refused.err())
        .endsWith(
            nowhere + ": the report cannot be written there (NoSuchFileException). Name a file in"
                + " a folder that exists and that you may write: --output FILE\n");
  }

  @Test
  void aCellThatDoesNotCompileIsNamedWithItsLineAndNothingIsWritten() throws Exception {
    change("ratio(7)", "mm(7)");
    Said said = say("run", job.toString());
    assertThat(said.status()).isEqualTo(2);
    assertThat(said.out()).isEmpty();
    assertThat(said.err()).contains("cell velocity, line 9: ", "Length", "Ratio");
    assertThat(files()).doesNotContainKey("interpretation.record.jsonl");
  }

  @Test
  void aCellThatNamesAFileOrTheClockIsRefused() throws Exception {
    change("velocity.get();", "var now = System.nanoTime(); velocity.get();");
    Said said = say("run", job.toString());
    assertThat(said.status()).isEqualTo(2);
    assertThat(said.err()).contains("cell velocity, line 11: ", "System");
    assertThat(files()).doesNotContainKey("interpretation.record.jsonl");
  }

  @Test
  void aCellThatStopsIsNamedWithItsLine() throws Exception {
    change("base.of(\"E01\")", "base.of(\"E09\")");
    Said said = say("run", job.toString());
    assertThat(said.status()).isEqualTo(2);
    assertThat(said.err()).contains("cell velocity, line 12: ", "E09", "E01");
    assertThat(files()).doesNotContainKey("interpretation.record.jsonl");
  }
}
