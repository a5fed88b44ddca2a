package org.slabnote.engine.run;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Collection;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.slabnote.engine.problem.Problem;

class CheckTest {
  @TempDir
  private Path folder;

  private JobRunner runner;

  @BeforeEach
  void makeAJob() throws Exception {
    Path job = JobFixture.write(folder.resolve("job"), JobFixture.NOTEBOOK);
    Computation none = new Computation() {
      @Override
      public Computed compute(
          Prepared one, Path store, Collection<String> more, RunListener listener) {
        throw new AssertionError("a check computes nothing");
      }

      @Override
      public void cancel() {}
    };
    runner = new JobRunner(job, folder.resolve("cache"), Toolbox.find(), none);
  }

  @Test
  void aSoundJobHasNoProblems() {
    assertThat(runner.check(JobFixture.NOTEBOOK)).isEmpty();
  }

  @Test
  void wrongUnitsReadInOneLine() {
    assertThat(runner.check(JobFixture.NOTEBOOK.replace("ratio(2)", "mm(2)")))
        .extracting(Problem::toString)
        .containsExactly(
            "cell clean, line 4: incompatible types: Length cannot be converted to Ratio. "
                + "Expected is one such as ratio(7)");
  }

  @Test
  void aCellThatNamesAFileOrTheClockIsRefused() {
    assertThat(runner.check(JobFixture.NOTEBOOK.replace(
            "var first", "var t = java.time.LocalDate.now();\nvar first")))
        .extracting(Problem::toString)
        .containsExactly(
            "cell levels, line 14: java.time.LocalDate may not be used in a cell: a cell does not see "
                + "the clock, or the record would differ with every run. Dates stand in job.toml");
  }

  @Test
  void aFileNamedWithoutAnImportIsRefusedWithTheReason() {
    assertThat(runner.check(JobFixture.NOTEBOOK.replace(
            "var first", "var t = Files.readString(Path.of(\"notes\"));\nvar first")))
        .extracting(Problem::toString)
        .containsExactly(
            "cell levels, line 14: java.nio.file.Files may not be used in a cell: a cell reads and "
                + "writes no files. Read scans with scan(\"E04\", ACROSS), hand data from a csv block "
                + "with picks(\"NAME\"); results leave by show, table and conclude");
  }

  @Test
  void rememberedCellsKeepTheirPlaceWhenProseMoves() {
    String bad = JobFixture.NOTEBOOK.replace("var first", "var t = System.nanoTime();\nvar first");
    assertThat(runner.check(bad)).extracting(Problem::line).containsExactly(14);
    assertThat(runner.check("More prose.\n\n" + bad)).extracting(Problem::line).containsExactly(16);
  }

  @Test
  void aDamagedMemoryOfCellsIsNotUsed() throws Exception {
    assertThat(runner.check(JobFixture.NOTEBOOK)).isEmpty();
    try (var files = Files.walk(folder.resolve("cache/cells"))) {
      for (Path entry : files.filter(Files::isRegularFile).toList()) {
        byte[] bytes = Files.readAllBytes(entry);
        bytes[bytes.length / 2] ^= 1;
        Files.write(entry, bytes);
      }
    }
    assertThat(runner.check(JobFixture.NOTEBOOK)).isEmpty();
  }

  @Test
  void limitsOfTheJobSheetAreChecked() throws Exception {
    Path sheet = runner.folder().resolve("job.toml");
    Files.writeString(sheet, Files.readString(sheet) + "[limits]\nmemory_mb = \"much\"\n");
    assertThat(runner.check(JobFixture.NOTEBOOK))
        .extracting(Problem::toString)
        .containsExactly(
            "job.toml: limits.memory_mb = much; expected a whole number from 256 to 1048576. "
                + "Write memory_mb = 2048");
  }
}
