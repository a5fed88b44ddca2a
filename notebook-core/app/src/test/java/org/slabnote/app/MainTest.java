package org.slabnote.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Fault;
import org.slabnote.engine.problem.Problem;
import org.slabnote.engine.run.Outcome;
import org.slabnote.engine.run.RunListener;

/** Exit statuses, messages of wrong use, help. */
class MainTest {
  private static final Bench NONE = new FakeBench();

  private static Bench stopping(Throwable thrown) {
    return new FakeBench() {
      @Override
      public Outcome run(Path job, RunListener listener) throws BadInput {
        if (thrown instanceof BadInput bad) {
          throw bad;
        }
        if (thrown instanceof RuntimeException e) {
          throw e;
        }
        throw (Error) thrown;
      }
    };
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "runn job|slabnote: runn is no command; expected new, run, status, recheck, table, report,"
            + " plugin, store, open or help. See what it takes: slabnote --help",
        "run|slabnote run: JOB is missing. See what it takes: slabnote run --help",
        "run job more|slabnote run: more is one argument too many. See what it takes: slabnote run"
            + " --help",
        "run --fast job|slabnote run: --fast is no option of this command. See what it takes:"
            + " slabnote run --help",
        "new job|slabnote new: --survey FILE is missing. See what it takes: slabnote new --help",
        "new|slabnote new: --survey FILE and JOB are missing. See what it takes: slabnote new --help",
        "new job --survey|slabnote new: --survey FILE is missing. See what it takes: slabnote new"
            + " --help",
        "new job -s a.csv -s b.csv|slabnote new: --survey is given twice; expected once. See what it"
            + " takes: slabnote new --help",
        "plugin put job|slabnote plugin: put is none of its commands; expected add, list, allow or remove."
            + " See what it takes: slabnote plugin --help",
        "plugin add job|slabnote plugin add: JAR is missing. See what it takes: slabnote plugin add"
            + " --help",
        "store shrink|slabnote store: shrink is none of its commands; expected trim, verify or clear."
            + " See what it takes: slabnote store --help",
        "store --limit 5GiB|slabnote store: --limit = 5GiB; expected a size of at least 10 MB, such as"
            + " 500MB or 4GB. See what it takes: slabnote store --help",
        "store --limit 9MB|slabnote store: --limit = 9MB; expected a size of at least 10 MB, such as"
            + " 500MB or 4GB. See what it takes: slabnote store --help",
        "store trim --to all|slabnote store trim: --to = all; expected a size, such as 500MB or 4GB."
            + " See what it takes: slabnote store trim --help",
        "--verbose|slabnote: --verbose is no option of this command. See what it takes: slabnote"
            + " --help",
      })
  void wrongUseIsStatus2AndSaysWhatToDo(String arguments, String message) {
    Said said = Said.of(NONE, arguments.split(" "));
    assertThat(said.err()).isEqualTo(message + "\n");
    assertThat(said.status()).isEqualTo(2);
    assertThat(said.out()).isEmpty();
  }

  @Test
  void nothingGivenIsWrongUseAndShowsTheCommands() {
    Said said = Said.of(NONE);
    assertThat(said.status()).isEqualTo(2);
    assertThat(said.out()).isEmpty();
    assertThat(said.err()).contains("Usage: slabnote COMMAND", "recheck", "Exit status:");
  }

  @Test
  void badInputIsStatus2() {
    BadInput bad = new BadInput(
        new Problem(Problem.Kind.COMPILE, "interpretation.md", 41, "velocity", "no such thing"));
    Said said = Said.of(stopping(bad), "run", "job");
    assertThat(said).isEqualTo(new Said(2, "", "cell velocity, line 41: no such thing\n"));
  }

  @Test
  void aRecordThatFitsNoLongerIsStatus1() {
    BadInput bad = new BadInput(new Problem(Problem.Kind.RECORD, "r", 0, "", "changed"));
    assertThat(Said.of(stopping(bad), "run", "job")).isEqualTo(new Said(1, "", "r: changed\n"));
  }

  @Test
  void aFaultIsStatus3() {
    assertThat(Said.of(stopping(new Fault("the store is full")), "run", "job"))
        .isEqualTo(new Said(3, "", "slabnote: the store is full\n"));
  }

  @Test
  void whateverElseIsThrownIsStatus3AndNeverAVerdict() {
    for (Throwable thrown : List.of(
        new IllegalStateException("boom"),
        new OutOfMemoryError("heap"),
        new StackOverflowError(),
        new AssertionError("impossible"))) {
      Said said = Said.of(stopping(thrown), "run", "job");
      assertThat(said.status()).isEqualTo(3);
      assertThat(said.out()).isEmpty();
      assertThat(said.err()).startsWith("slabnote: a fault of ours, not of the job: ");
    }
  }

  @ParameterizedTest
  @ValueSource(strings = {"new", "run", "recheck", "table", "report", "open"})
  void helpNamesArgumentsStatusFilesAndExamples(String command) {
    Said said = Said.of(NONE, command, "--help");
    assertThat(said.status()).isZero();
    assertThat(said.err()).isEmpty();
    assertThat(said.out())
        .contains(
            "Usage: slabnote " + command, "JOB ", "Exit status:\n  0", "Files:", "reads", "Example")
        .contains("  slabnote " + command + " roof-slab");
    assertThat(said.out().lines()).allMatch(line -> line.length() <= 80);
    assertThat(Said.of(NONE, "help", command).out()).isEqualTo(said.out());
  }

  @Test
  void theHelpListsEachCommandInOneLine() {
    Said said = Said.of(NONE, "--help");
    assertThat(said.status()).isZero();
    assertThat(said.out())
        .contains(
            "new      Make a job folder from a survey table and its scans.",
            "run      Run a job's notebook, print what it found, and write the record.",
            "recheck  Run a job again from its scans and compare with its record.",
            "table    List the tables of a job's record, or print one as CSV.",
            "store    Show what is remembered of steps; trim, verify or clear it.",
            "report   Write the report of a job as one HTML page.",
            "open     Open a job in a window.");
  }

  @Test
  void theVersionNamesTheJavaToo() {
    assertThat(Said.of(NONE, "--version").out())
        .matches(
            "slabnote \\d+\\.\\d+\\.\\d+\\S* \\(Java " + Runtime.version().feature() + ".*\\)\n");
  }

  @Test
  void anOutputThatTakesNoMoreIsStatus3() {
    OutputStream full = new OutputStream() {
      @Override
      public void write(int b) throws IOException {
        throw new IOException("No space left on device");
      }
    };
    ByteArrayOutputStream err = new ByteArrayOutputStream();
    int status = Main.run(new Terminal(full, err, false, false, Map.of()), NONE, "--version");
    assertThat(status).isEqualTo(3);
    assertThat(err.toString(StandardCharsets.UTF_8))
        .isEqualTo("standard output: not all of the result could be written (No space left on "
            + "device). Make room, or write it elsewhere\n");
  }

  @Test
  void aReaderOfThePipeThatHadEnoughIsNoFault() {
    OutputStream closed = new OutputStream() {
      @Override
      public void write(int b) throws IOException {
        throw new IOException("Broken pipe");
      }
    };
    ByteArrayOutputStream err = new ByteArrayOutputStream();
    int status = Main.run(new Terminal(closed, err, false, false, Map.of()), NONE, "--version");
    assertThat(status).isZero();
    assertThat(err.size()).isZero();
  }

  @Test
  void headingsAreBoldOnATerminalOnlyAndNotWhereNoColourIsWanted() {
    assertThat(Said.of(true, Map.of("TERM", "xterm"), NONE, "--help").out()).contains("\u001b[");
    assertThat(Said.of(true, Map.of("NO_COLOR", "1"), NONE, "--help").out())
        .doesNotContain("\u001b[");
    assertThat(Said.of(true, Map.of("TERM", "dumb"), NONE, "--help").out())
        .doesNotContain("\u001b[");
    assertThat(Said.of(false, Map.of(), NONE, "--help").out()).doesNotContain("\u001b[");
  }
}
