package org.slabnote.app;

import java.util.concurrent.Callable;
import org.slabnote.engine.run.Remembered;
import org.slabnote.worker.store.StoreFacts;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;

/** Deletes all that is remembered. */
@Command(
    name = "clear",
    header = "Delete all that is remembered of steps and cells.",
    synopsisHeading = "%nUsage: ",
    description = {
      "",
      "The next run of each job computes everything. No job and no record is touched; the limit stays "
          + "set. A run that is going on computes again what it misses.",
      ""
    },
    optionListHeading = "Options:%n",
    exitCodeListHeading = "%nExit status:%n",
    exitCodeList = {"0:done", "2:wrong use", "3:the folder cannot be read or written"},
    footer = {
      "%nFiles:",
      "  reads   the folder slabnote in the user's cache folder, no job",
      "  writes  deletes there",
      "",
      "Example:",
      "  slabnote store clear"
    })
final class StoreClearCommand implements Callable<Integer> {
  private final Terminal terminal;
  private final Bench bench;

  @Mixin
  @SuppressWarnings("UnusedVariable") // picocli reads it
  private final HelpOption help = new HelpOption();

  StoreClearCommand(Terminal terminal, Bench bench) {
    this.terminal = terminal;
    this.bench = bench;
  }

  @Override
  public Integer call() {
    Remembered remembered = bench.remembered();
    StoreFacts steps =
        StoreFaults.guard(remembered, "written", () -> remembered.steps().clear());
    StoreFacts cells =
        StoreFaults.guard(remembered, "written", () -> remembered.cells().clear());
    terminal.out().println("deleted, steps: " + StoreCommand.told(steps));
    terminal.out().println("deleted, cells: " + StoreCommand.told(cells));
    return Status.DONE;
  }
}
