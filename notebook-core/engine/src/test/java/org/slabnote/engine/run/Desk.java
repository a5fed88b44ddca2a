package org.slabnote.engine.run;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.Map;
import org.slabnote.engine.job.CutsTable;
import org.slabnote.engine.job.SurveyTable;
import org.slabnote.engine.trace.OutOfDate;
import org.slabnote.probe.Tally;
import org.slabnote.worker.run.InProcessWorker;
import org.slabnote.worker.store.ValueReader;

/** A job on which somebody works, run in this process, so that operations can be counted. */
final class Desk {
  static final String NOTEBOOK = """
      # A slab

      ```java setup
      var across = scans(ACROSS);
      var unused = across.then(new Scale(ratio(5)));
      ```

      Some words.

      ```java clean
      var clean = across.then(new Scale(ratio(2))).then(new Scale(ratio(3)));
      ```

      ```java levels
      var levels = clean.each(s -> new Level(s));
      var first = levels.of("E01");
      var second = levels.of("E02");
      ```

      ```csv hand-picks
      pass,distance_m,time_ns
      E01,0.1,1.5
      ```

      ```java own
      @Op(id = "own.half", revision = 1, purpose = Purpose.ACQUISITION)
      record Half(Step<Measured<Ratio>> of) implements Operation<Measured<Ratio>> {
        public Measured<Ratio> apply(Work work) {
          Tally.count("half");
          return of.get();
        }
      }
      var half = run(new Half(first));
      ```

      ```java picked
      var weighed = run(new Weigh(second, picks("hand-picks")));
      ```

      ```java diamond
      table("levels", run(new Levels(levels)));
      conclude("D", run(new Judge(half, cuts("C1"))));
      ```

      ```java verdicts
      conclude(each(cuts(), Cut::name, c -> new Judge(weighed, c)));
      ```

      ```java sheet
      var deep = job().facts().get("notes.deep").equals("yes");
      conclude("S", run(new Judge(deep ? first : second, cuts().get(0))));
      ```
      """;

  final Path job;
  final Path cache;
  JobRunner runner;
  String text = NOTEBOOK;

  Desk(Path folder) throws IOException {
    job = JobFixture.write(folder.resolve("job"), NOTEBOOK);
    cache = folder.resolve("cache");
    sheet("50 mm", "yes");
    Files.writeString(
        job.resolve("cuts.csv"),
        String.join(",", CutsTable.COLUMNS)
            + "\nC1,core,0.5,0.15,,,0.1,0.2,\nC2,core,0.6,0.15,,,0.1,0.2,\n");
    runner = anotherProcess();
  }

  /** A runner that remembers nothing but what lies in the cache folder. */
  JobRunner anotherProcess() {
    runner = new JobRunner(
        job,
        cache,
        Toolbox.find(),
        new WorkerComputation(
            2,
            new InProcessWorker(Desk.class.getClassLoader()),
            (store, sha256) -> new ValueReader(store, Desk.class.getClassLoader()).byDigest(sha256),
            cache));
    return runner;
  }

  /** Writes the job sheet. */
  void sheet(String metal, String deep) throws IOException {
    Files.writeString(
        job.resolve("job.toml"),
        "title = \"A slab\"\n[required_clearance]\nmetal = \"" + metal + "\"\n[notes]\ndeep = \""
            + deep + "\"\nweather = \"dry\"\n");
  }

  /** Replaces text in a file of the job. */
  void replace(String file, String from, String to) throws IOException {
    Path path = job.resolve(file);
    String before = Files.readString(path);
    if (!before.contains(from)) {
      throw new IllegalArgumentException(file + " has no " + from);
    }
    Files.writeString(path, before.replace(from, to));
  }

  /** Replaces text in the notebook. */
  Desk edit(String from, String to) throws IOException {
    replace("interpretation.md", from, to);
    text = Files.readString(job.resolve("interpretation.md"));
    return this;
  }

  /** Runs the job, writes the record and returns what was computed, how often. */
  Map<String, Integer> run() throws Exception {
    Tally.take();
    runner.run(RunListener.NONE);
    return Tally.take();
  }

  /** Why each cell is out of date, in order; nothing runs. */
  Map<String, String> outOfDate() throws Exception {
    return reasons(runner.outOfDate(text).orElseThrow());
  }

  static Map<String, String> reasons(OutOfDate found) {
    Map<String, String> reasons = new LinkedHashMap<>();
    found.cells().forEach(one -> reasons.put(one.cell(), one.reason()));
    return reasons;
  }

  /** Why the last run computed, by cell. */
  Map<String, String> why() {
    return reasons(new OutOfDate(runner.why(), java.util.List.of()));
  }

  /** Adds a pass across. */
  void addPass(String pass) throws IOException {
    Files.writeString(job.resolve("scans/" + pass + ".txt"), "probe 3\n3 2 1\n6 5 4\n");
    Path survey = job.resolve("survey.csv");
    Files.writeString(
        survey,
        Files.readString(survey) + pass + ",a," + pass + ".txt,90,90,0,0.3,1,0.3,0.05,0.06,2000\n");
    if (SurveyTable.COLUMNS.size() != 12) {
      throw new IllegalStateException("the survey table has other columns");
    }
  }
}
