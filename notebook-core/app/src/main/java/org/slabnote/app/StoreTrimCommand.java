package org.slabnote.app;

import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import org.slabnote.engine.run.Remembered;
import org.slabnote.worker.store.ByteSize;
import org.slabnote.worker.store.Store;
import org.slabnote.worker.store.StoreLimit;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Deletes remembered steps that were used longest ago. */
@Command(
    name = "trim",
    header = "Delete the steps that were used longest ago.",
    synopsisHeading = "%nUsage: ",
    description = {
      "",
      "Deletes down to a size; without one, to the limit. What was used within the last quarter of an "
          + "hour stays, since a run may be at it.",
      ""
    },
    optionListHeading = "Options:%n",
    exitCodeListHeading = "%nExit status:%n",
    exitCodeList = {
      "0:done",
      "2:wrong use; nothing was deleted",
      "3:the folder cannot be read or written"
    },
    footer = {
      "%nFiles:",
      "  reads   the folder slabnote in the user's cache folder, no job",
      "  writes  deletes there",
      "",
      "Example:",
      "  slabnote store trim --to 500MB"
    })
final class StoreTrimCommand implements Callable<Integer> {
  private final Terminal terminal;
  private final Bench bench;

  @Spec
  @SuppressWarnings("NullAway.Init") // set by picocli
  private CommandSpec spec;

  @Option(
      names = "--to",
      paramLabel = "SIZE",
      description = "How much may be left: 0, 500MB, 4GB. The limit where it is not given.")
  private @Nullable String to;

  @Mixin
  @SuppressWarnings("UnusedVariable") // picocli reads it
  private final HelpOption help = new HelpOption();

  StoreTrimCommand(Terminal terminal, Bench bench) {
    this.terminal = terminal;
    this.bench = bench;
  }

  @Override
  public Integer call() {
    Remembered remembered = bench.remembered();
    String asked = to;
    long most = asked == null
        ? StoreLimit.of(remembered.stepsFolder())
        : StoreCommand.size(spec, "--to", asked, 0);
    Store steps = remembered.steps();
    long before = StoreFaults.guard(remembered, "read", () -> steps.facts().bytes());
    long after = StoreFaults.guard(remembered, "written", () -> {
      steps.trim(most);
      return steps.facts().bytes();
    });
    terminal
        .out()
        .println("steps: " + ByteSize.words(before) + " before, " + ByteSize.words(after) + " now"
            + (after > most ? "; what was used within the last quarter of an hour stays" : ""));
    return Status.DONE;
  }
}
