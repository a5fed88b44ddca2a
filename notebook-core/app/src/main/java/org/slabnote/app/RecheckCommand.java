package org.slabnote.app;

import java.nio.file.Path;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Parameters;

/** Runs a job from its scans and compares with its record. */
@Command(
    name = "recheck",
    header = "Run a job again from its scans and compare with its record.",
    synopsisHeading = "%nUsage: ",
    description = {
      "",
      "Computes everything anew, trusting nothing that is remembered, and compares the result byte by "
          + "byte with the record in the job folder. Touches nothing there.",
      "",
      "Prints one line: that both are the same, or the first fact that differs and by how much.",
      ""
    },
    parameterListHeading = "Arguments:%n",
    optionListHeading = "%nOptions:%n",
    exitCodeListHeading = "%nExit status:%n",
    exitCodeList = {
      "0:the record is what a clean run gives",
      "1:it is not: the first difference is printed",
      "2:there is no record, or the job cannot be run as it stands",
      "3:a fault of ours or of the machine"
    },
    footer = {
      "%nFiles:",
      "  reads   all files of the job",
      "  writes  nothing in the job; steps in a temporary folder that is removed again",
      "",
      "Examples:",
      "  slabnote recheck roof-slab",
      "  slabnote recheck roof-slab && git commit -m \"Read the roof slab\""
    })
final class RecheckCommand implements Callable<Integer> {
  private final Terminal terminal;
  private final Bench bench;

  @Parameters(paramLabel = "JOB", description = "The job folder.")
  @SuppressWarnings("NullAway.Init") // set by picocli
  private Path job;

  @Mixin
  @SuppressWarnings("UnusedVariable") // picocli reads it
  private final HelpOption help = new HelpOption();

  RecheckCommand(Terminal terminal, Bench bench) {
    this.terminal = terminal;
    this.bench = bench;
  }

  @Override
  public Integer call() throws Exception {
    Records.requireOne(job);
    Optional<String> difference;
    try (Progress progress = new Progress(terminal)) {
      difference = bench.recheck(job, progress);
    }
    terminal
        .out()
        .println(difference
            .map(first -> "differs: " + first)
            .orElse("same: a clean run from the scans gives the record, byte for byte"));
    return difference.isPresent() ? Status.NO : Status.DONE;
  }
}
