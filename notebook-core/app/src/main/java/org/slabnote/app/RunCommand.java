package org.slabnote.app;

import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.Callable;
import org.slabnote.engine.run.Outcome;
import org.slabnote.engine.trace.OutOfDate;
import org.slabnote.engine.trace.Why;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Runs a job and prints what it found. */
@Command(
    name = "run",
    header = "Run a job's notebook, print what it found, and write the record.",
    synopsisHeading = "%nUsage: ",
    description = {
      "",
      "Reads every file of the job anew, replays all cells of interpretation.md from the first to the "
          + "last, and computes what they ask for. Steps that were computed before, and whose inputs "
          + "did not change, are remembered.",
      "",
      "Prints the findings with their uncertainty, the velocity, the conclusion on each proposed cut, "
          + "and how many events are open. When a cell or a scan stops the run, nothing is printed "
          + "and no record is written.",
      ""
    },
    parameterListHeading = "Arguments:%n",
    optionListHeading = "%nOptions:%n",
    exitCodeListHeading = "%nExit status:%n",
    exitCodeList = {
      "0:the run is complete and the record written; a cut that infringes is a result, not a "
          + "failure",
      "2:a cell does not compile, may not run or stopped, or a file of the job does not serve",
      "3:a fault of ours or of the machine"
    },
    footer = {
      "%nFiles:",
      "  reads   JOB/interpretation.md, job.toml, survey.csv, cuts.csv, scans/",
      "  writes  JOB/interpretation.record.jsonl and JOB/interpretation.digests, both",
      "          or none;",
      "          remembered steps in the user's cache folder ($XDG_CACHE_HOME or",
      "          ~/.cache, %%LOCALAPPDATA%%, ~/Library/Caches), never in the job",
      "",
      "Examples:",
      "  slabnote run roof-slab",
      "  slabnote run roof-slab > findings.txt      progress stays on the terminal",
      "  slabnote run --why roof-slab               tells what made it compute again"
    })
final class RunCommand implements Callable<Integer> {
  private final Terminal terminal;
  private final Bench bench;

  @Parameters(paramLabel = "JOB", description = "The job folder.")
  @SuppressWarnings("NullAway.Init") // set by picocli
  private Path job;

  @Option(
      names = "--why",
      description =
          "Print also, for each cell of which something was computed and not remembered, why: "
              + "what changed since the last complete run.")
  private boolean why;

  @Mixin
  @SuppressWarnings("UnusedVariable") // picocli reads it
  private final HelpOption help = new HelpOption();

  RunCommand(Terminal terminal, Bench bench) {
    this.terminal = terminal;
    this.bench = bench;
  }

  @Override
  public Integer call() throws Exception {
    Outcome outcome;
    Progress progress = new Progress(terminal);
    try (progress) {
      outcome = bench.run(job, progress);
    }
    outcome.warnings().forEach(warning -> terminal.err().println(warning.toString()));
    new Summary(terminal, outcome, job).print();
    if (why) {
      tellWhy(progress.why());
    }
    return Status.DONE;
  }

  private static String steps(int count) {
    return count + (count == 1 ? " step" : " steps");
  }

  private void tellWhy(List<OutOfDate.Stale> cells) {
    terminal.out().println();
    terminal.out().println(terminal.heading("Computed in this run"));
    if (cells.isEmpty()) {
      terminal.out().println("  nothing: every step was remembered");
    }
    int notKept = 0;
    for (OutOfDate.Stale one : cells) {
      int steps = one.steps().size();
      if (one.reasons().equals(List.of(Why.NOT_KEPT))) {
        notKept += steps;
      } else {
        terminal.out().println("  " + one.sentence() + " [" + steps(steps) + "]");
      }
    }
    if (notKept > 0) {
      terminal
          .out()
          .println("  on the way " + steps(notKept)
              + " that nothing reached: quick ones, whose values were not kept");
    }
  }
}
