package org.slabnote.app;

import java.nio.file.Path;
import java.util.concurrent.Callable;
import org.slabnote.engine.job.Job;
import org.slabnote.engine.run.Standing;
import org.slabnote.engine.trace.OutOfDate;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Tells whether a record is up to date, and if not, why. */
@Command(
    name = "status",
    header = "Tell whether a job's record is up to date, and if not, why, by cell.",
    synopsisHeading = "%nUsage: ",
    description = {
      "",
      "Compares the job as its files say it now with the run that gave the record. Nothing runs; cells "
          + "that were edited are compiled, no more.",
      "",
      "Prints a line for each cell that is out of date, with what changed: an edit of it or of a cell "
          + "that it uses, a scan, a row of the survey table, data, a proposed cut, a fact of the job "
          + "sheet, a plugin. Cells that nothing reaches are not listed.",
      "",
      "Up to date means that the record tells of these files. It says nothing about the slab.",
      ""
    },
    parameterListHeading = "Arguments:%n",
    optionListHeading = "%nOptions:%n",
    exitCodeListHeading = "%nExit status:%n",
    exitCodeList = {
      "0:the record is up to date",
      "1:it is out of date, or there is none yet: why is printed",
      "2:a file of the job cannot be read, or the record was damaged",
      "3:a fault of ours or of the machine"
    },
    footer = {
      "%nFiles:",
      "  reads   all files of the job; the last run's trace in the user's cache folder",
      "  writes  nothing in the job",
      "",
      "Examples:",
      "  slabnote status roof-slab",
      "  slabnote status roof-slab || slabnote run roof-slab"
    })
final class StatusCommand implements Callable<Integer> {
  private final Terminal terminal;
  private final Bench bench;

  @Parameters(paramLabel = "JOB", description = "The job folder.")
  @SuppressWarnings("NullAway.Init") // set by picocli
  private Path job;

  @Option(
      names = "--steps",
      description = "List under each cell the steps that may come out another way.")
  private boolean steps;

  @Mixin
  @SuppressWarnings("UnusedVariable") // picocli reads it
  private final HelpOption help = new HelpOption();

  StatusCommand(Terminal terminal, Bench bench) {
    this.terminal = terminal;
    this.bench = bench;
  }

  @Override
  public Integer call() throws Exception {
    Standing standing = bench.standing(job);
    if (standing.upToDate()) {
      terminal.out().println("up to date: " + Job.RECORD + " tells of the job as it stands");
      return Status.DONE;
    }
    terminal.out().println("out of date: " + Job.RECORD + " does not tell of the job as it stands");
    for (OutOfDate.Stale one : standing.outOfDate().cells()) {
      terminal.out().println("  " + one.sentence());
      if (steps) {
        one.steps().forEach(step -> terminal.out().println("    " + step));
      }
    }
    standing.words().forEach(words -> terminal.out().println("  " + words));
    if (!standing.problems().isEmpty()) {
      terminal.err().println("The job cannot be run as it stands:");
      standing.problems().forEach(problem -> terminal.err().println(problem.toString()));
    }
    return Status.NO;
  }
}
