package org.slabnote.app;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import org.slabnote.api.codec.Canonical;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Problem;
import org.slabnote.engine.run.Outcome;
import org.slabnote.report.HtmlReport;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Writes the report of a job. */
@Command(
    name = "report",
    header = "Write the report of a job as one HTML page.",
    synopsisHeading = "%nUsage: ",
    description = {
      "",
      "The page holds everything itself: job sheet, conclusions, plan, findings with uncertainty, "
          + "velocity, figures with the picks drawn, what could not be seen, open events, cautions, "
          + "and the digest of the record it tells of.",
      "",
      "It is made from the record. When the job changed since its last run, no report is written.",
      ""
    },
    parameterListHeading = "Arguments:%n",
    optionListHeading = "%nOptions:%n",
    exitCodeListHeading = "%nExit status:%n",
    exitCodeList = {
      "0:the report is written",
      "1:the record does not tell of the job as it stands: run it again",
      "2:there is no record, or the report cannot be written there",
      "3:a fault of ours or of the machine"
    },
    footer = {
      "%nFiles:",
      "  reads   all files of the job, its record, remembered steps",
      "  writes  JOB/report.html, or the file that --output names",
      "",
      "Examples:",
      "  slabnote report roof-slab",
      "  slabnote report roof-slab --output roof-slab-2026-03.html",
      "  slabnote report roof-slab --output - | gzip > report.html.gz"
    })
final class ReportCommand implements Callable<Integer> {
  static final String FILE = "report.html";

  private final Terminal terminal;
  private final Bench bench;

  @Parameters(paramLabel = "JOB", description = "The job folder.")
  @SuppressWarnings("NullAway.Init") // set by picocli
  private Path job;

  @Option(
      names = {"-o", "--output"},
      paramLabel = "FILE",
      description = "Where to write it: a file, or - for the standard output.")
  private @Nullable String output;

  @Mixin
  @SuppressWarnings("UnusedVariable") // picocli reads it
  private final HelpOption help = new HelpOption();

  ReportCommand(Terminal terminal, Bench bench) {
    this.terminal = terminal;
    this.bench = bench;
  }

  @Override
  public Integer call() throws Exception {
    Records.requireOne(job);
    Outcome outcome;
    try (Progress progress = new Progress(terminal)) {
      outcome = bench.recorded(job, progress);
    }
    String page =
        HtmlReport.of(outcome.facts(), Canonical.sha256(outcome.record().record()));
    if ("-".equals(output)) {
      terminal.out().print(page);
      return Status.DONE;
    }
    Path file = output == null ? job.resolve(FILE) : Path.of(output);
    write(file, page);
    terminal.out().println("Report: " + file);
    return Status.DONE;
  }

  /** Writes the page whole, beside its place, and moves it there. */
  private static void write(Path file, String page) throws BadInput {
    Path part = file.resolveSibling("." + file.getFileName() + ".part");
    try {
      try {
        Files.writeString(part, page, StandardCharsets.UTF_8);
        Files.move(part, file, StandardCopyOption.REPLACE_EXISTING);
      } finally {
        Files.deleteIfExists(part);
      }
    } catch (IOException e) {
      throw new BadInput(Problem.inFile(
          file.toString(),
          0,
          "the report cannot be written there (" + e.getClass().getSimpleName()
              + "). Name a file in a folder that exists and that you may write: --output FILE"));
    }
  }
}
