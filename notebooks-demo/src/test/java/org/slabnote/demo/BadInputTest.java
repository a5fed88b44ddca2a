package org.slabnote.demo;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * What is wrong with a job is told in one clear message: which file or cell, where in it, the value,
 * what was expected, what to do. Exit status 2; in the job folder nothing is written or changed.
 *
 * <p>The job is that of the full-wave scans, with a notebook of two cells.
 */
class BadInputTest {
  private static final String NO_FILES =
      " may not be used in a cell: a cell reads and writes no files. Read scans with "
          + "scan(\"E04\", ACROSS), hand data from a csv block with picks(\"NAME\"); results leave by "
          + "show, table and conclude";
  private static final String NO_CLOCK =
      " may not be used in a cell: a cell does not see the clock, or the record would differ with "
          + "every run. Dates stand in job.toml";
  private static final String COLUMNS =
      "pass,channel,file,tx_deg,rx_deg,x0_m,y0_m,x1_m,y1_m,sample_interval_ns,antenna_offset_m,"
          + "centre_frequency_mhz";

  /** The second cell begins on line 8. */
  private static final String NOTEBOOK = """
      # A reading

      ```java clean
      var clean = scans(ACROSS).then(new Dewow(ns(1.0)));
      ```

      ```java judge
      %s
      ```
      """;

  @TempDir
  private static Path whole;

  @TempDir
  private Path folder;

  private Path survey;
  private Path job;

  @BeforeAll
  static void aSoundJob() throws Exception {
    FullWaveTest.copyData(whole.resolve("data"));
    Slabnote.in(whole).done("new", "job", "--survey", "data/passes.csv");
    notebook(whole.resolve("job"), "show(clean.of(\"S1\"));");
  }

  @BeforeEach
  void copyOfIt() {
    Folders.copy(whole.resolve("data"), folder.resolve("data"));
    job = Folders.copy(whole.resolve("job"), folder.resolve("job"));
    survey = folder.resolve("data/passes.csv");
  }

  private static void notebook(Path job, String cell) throws IOException {
    Files.writeString(job.resolve("interpretation.md"), NOTEBOOK.formatted(cell));
  }

  private static void replace(Path file, String from, String to) throws IOException {
    String text = Files.readString(file);
    assertThat(text).contains(from);
    Files.writeString(file, text.replace(from, to));
  }

  private static void cutShort(Path scan) throws IOException {
    Files.write(scan, Arrays.copyOf(Files.readAllBytes(scan), 60_000));
  }

  /** Runs the job: these messages and no others, status 2, no output, every byte as before. */
  private void runRefuses(String... messages) {
    var before = Folders.bytes(job);
    Slabnote.Said said = Slabnote.in(folder).run("run", "job");
    assertThat(said.messages()).containsExactly(messages);
    assertThat(said.status()).isEqualTo(2);
    assertThat(said.out()).isEmpty();
    assertThat(Folders.bytes(job)).isEqualTo(before);
  }

  private void cellRefuses(String cell, String... messages) throws IOException {
    notebook(job, cell);
    runRefuses(messages);
  }

  /** Makes a job: the same, and no folder nor a part of one. */
  private void newRefuses(String... messages) {
    var before = Folders.bytes(folder.resolve("data"));
    Slabnote.Said said = Slabnote.in(folder).run("new", "other", "--survey", "data/passes.csv");
    assertThat(said.messages()).containsExactly(messages);
    assertThat(said.status()).isEqualTo(2);
    assertThat(said.out()).isEmpty();
    assertThat(Folders.bytes(folder.resolve("data"))).isEqualTo(before);
    assertThat(List.of(folder.toFile().list())).containsExactlyInAnyOrder("data", "job");
  }

  /** Without this, each refusal below could be one of a job that never ran. */
  @Test
  void theSoundJobRuns() {
    assertThat(Slabnote.in(folder).run("run", "job").status()).isZero();
    assertThat(job.resolve("interpretation.record.jsonl")).exists();
  }

  @Nested
  class Scans {
    /** 3600 bytes of headers and 31 traces of 240 + 4 x 400 bytes fit; the next has 240 samples left. */
    private static final String CUT_SHORT =
        "S1_across.sgy, trace 31 at byte 58800: 400 samples expected (binary header bytes "
            + "3221-3222), the file ends after 240. The file is cut short: copy it again from its "
            + "source";

    @Test
    void cutShort() throws Exception {
      BadInputTest.cutShort(folder.resolve("data/S1_across.sgy"));
      newRefuses(CUT_SHORT);
      BadInputTest.cutShort(job.resolve("scans/S1_across.sgy"));
      runRefuses("scans/" + CUT_SHORT);
    }

    @Test
    void missing() throws Exception {
      Files.delete(folder.resolve("data/S1_across.sgy"));
      newRefuses("data/passes.csv, line 2: file = S1_across.sgy, but there is no file "
          + "data/S1_across.sgy. Copy it there, or put its name right");
      Files.delete(job.resolve("scans/S1_across.sgy"));
      runRefuses("survey.csv, line 2: file = S1_across.sgy, but there is no file "
          + "scans/S1_across.sgy. Copy the scan there, or put its name right");
    }

    @Test
    void emptied() throws Exception {
      Files.write(job.resolve("scans/S1_across.sgy"), new byte[0]);
      runRefuses("scans/S1_across.sgy: the file is empty; a SEG-Y file starts with 3600 bytes of "
          + "headers. Copy it again from its source");
    }
  }

  @Nested
  class SurveyTable {
    private static final String ROW =
        "S1,1,S1_across.sgy,90,90,0.100,0.000,0.700,0.000,0.02,0.060,2000";

    private static String interval(String survey) {
      return "S1_across.sgy: the sample interval field holds 20 (binary header bytes 3217-3218; as "
          + "picoseconds 0.02 ns, as microseconds 20000 ns), but " + survey + " (pass S1, channel "
          + "1) says sample_interval_ns = 0.2. State the right one in " + survey
          + "; nothing was read";
    }

    @Test
    void wrongSampleInterval() throws Exception {
      replace(survey, ROW, ROW.replace("0.02", "0.2"));
      newRefuses(interval("passes.csv"));
      replace(job.resolve("survey.csv"), ROW, ROW.replace("0.02", "0.2"));
      runRefuses("scans/" + interval("survey.csv"));
    }

    @Test
    void unknownColumn() throws Exception {
      for (Path table : List.of(survey, job.resolve("survey.csv"))) {
        String text = Files.readString(table).strip();
        Files.writeString(
            table, text.replace("\n", ",north\n").replaceFirst(",north", ",operator") + ",north\n");
      }
      String message = ", line 1: column operator is not known; expected " + COLUMNS
          + ", and where wanted time_zero_ns,time_zero_u_ns,balance_db,balance_u_db,"
          + "balance_shift_ns,positions_file,remarks,ragged,header_positions. Put the name right or "
          + "take the column out";
      newRefuses("data/passes.csv" + message);
      runRefuses("survey.csv" + message);
    }

    @Test
    void missingColumn() throws Exception {
      replace(job.resolve("survey.csv"), "antenna_offset_m", "remarks");
      runRefuses("survey.csv, line 1: column antenna_offset_m is missing; expected " + COLUMNS
          + ". Add it");
    }

    @Test
    void noNumber() throws Exception {
      replace(job.resolve("survey.csv"), ROW, ROW.replace("0.060", "60 mm"));
      runRefuses("survey.csv, line 2: antenna_offset_m = 60 mm; expected a number such as 0.25. "
          + "Write it with a point, without its unit");
    }
  }

  @Nested
  class Cells {
    @Test
    void thatDoesNotEnd() throws Exception {
      cellRefuses(
          "var fine = clean.of(\"S1\");\nshow(clean.of(\"S1\");",
          "cell judge, line 9: the statement that begins here does not end within the cell: "
              + "\"show(clean.of(\"S1\");\". Perhaps a bracket, a brace or a quotation mark is not "
              + "closed");
    }

    @Test
    void thatNamesWhatIsNotThere() throws Exception {
      cellRefuses(
          "var fine = clean.of(\"S1\");\nshow(claen.of(\"S1\"));",
          "cell judge, line 9: cannot find symbol: variable claen");
    }

    @Test
    void thatGivesALengthForATime() throws Exception {
      cellRefuses(
          "var more = scans(ACROSS).then(new Dewow(mm(1.0)));",
          "cell judge, line 8: incompatible types: Length cannot be converted to TimeSpan. Expected "
              + "is one such as ns(1.2)");
    }

    @Test
    void thatGivesABareNumberForATime() throws Exception {
      cellRefuses(
          "var more = scans(ACROSS).then(new Dewow(1.0));",
          "cell judge, line 8: incompatible types: double cannot be converted to TimeSpan. Expected "
              + "is one such as ns(1.2)");
    }

    @Test
    void thatGivesAParameterOutOfItsRange() throws Exception {
      cellRefuses(
          "var more = scans(ACROSS).then(new Dewow(ns(500)));",
          "cell judge, line 8: filters.dewow: window = 500 ns is outside 0.1 ns to 50 ns. Expected: "
              + "length of the running mean, one to two periods of the centre frequency");
    }

    @Test
    void thatReadsAFile() throws Exception {
      cellRefuses(
          "var mine = new java.io.File(\"notes.txt\").length();",
          "cell judge, line 8: java.io.File" + NO_FILES);
    }

    @Test
    void thatReadsAFileByItsPath() throws Exception {
      cellRefuses(
          "var mine = java.nio.file.Files.readString(\n    java.nio.file.Path.of(\"notes.txt\"));",
          "cell judge, line 8: java.nio.file.Files" + NO_FILES,
          "cell judge, line 9: java.nio.file.Path" + NO_FILES);
    }

    @Test
    void thatReadsAFileByAMethodReference() throws Exception {
      cellRefuses(
          "Function<String, Object> reads = java.io.File::new;",
          "cell judge, line 8: java.io.File" + NO_FILES);
    }

    @Test
    void thatReadsTheClock() throws Exception {
      cellRefuses(
          "var now = System.currentTimeMillis();",
          "cell judge, line 8: java.lang.System.currentTimeMillis" + NO_CLOCK);
    }

    @Test
    void thatReadsTheDate() throws Exception {
      cellRefuses(
          "var now = java.time.Instant.now();", "cell judge, line 8: java.time.Instant" + NO_CLOCK);
    }

    @Test
    void thatReadsTheDateWithoutAnImport() throws Exception {
      cellRefuses("var now = Instant.now();", "cell judge, line 8: java.time.Instant" + NO_CLOCK);
    }

    @Test
    void thatPrints() throws Exception {
      cellRefuses(
          "System.out.println(clean);",
          "cell judge, line 8: java.io.PrintStream, java.lang.System.out may not be used in a cell: "
              + "what a cell prints is no part of the record. Use show(step) or table(\"NAME\", "
              + "step)");
    }

    @Test
    void thatStopsWithAnException() throws Exception {
      cellRefuses(
          "int[] two = new int[2];\ntwo[2] = 1;",
          "cell judge, line 9: ArrayIndexOutOfBoundsException: Index 2 out of bounds for length 2");
    }

    @Test
    void thatAsksForAPassThatIsNotThere() throws Exception {
      cellRefuses("show(clean.of(\"S9\"));", "cell judge, line 8: no step for S9; there are S1");
    }

    @Test
    void thatNeverEnds() throws Exception {
      Path sheet = job.resolve("job.toml");
      Files.writeString(sheet, Files.readString(sheet) + "\n[limits]\ntime_s = 2\n");
      cellRefuses(
          "int turns = 0;\nwhile (true) {\n  turns++;\n}",
          "cell judge, line 10: this has not ended after 2 s, the limit of the run. Make it do less, "
              + "or set a higher limit: time_s under [limits] in job.toml");
    }

    @Test
    void thatFillsTheMemory() throws Exception {
      Path sheet = job.resolve("job.toml");
      Files.writeString(sheet, Files.readString(sheet) + "\n[limits]\nmemory_mb = 256\n");
      cellRefuses(
          "var much = \"a\".repeat(2_000_000_000);",
          "cell judge, line 8: the memory of the worker, 256 MB, is full. Compute less at once, or "
              + "give the run more: memory_mb under [limits] in job.toml");
    }
  }
}
