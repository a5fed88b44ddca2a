package org.slabnote.app;

import java.nio.file.Path;
import java.util.concurrent.Callable;
import org.slabnote.engine.run.Remembered;
import org.slabnote.worker.store.ByteSize;
import org.slabnote.worker.store.Store;
import org.slabnote.worker.store.StoreCheck;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;

/** Reads everything that is remembered and deletes what is damaged. */
@Command(
    name = "verify",
    header = "Read all that is remembered, and delete what is damaged.",
    synopsisHeading = "%nUsage: ",
    description = {
      "",
      "A run verifies what it reads, so this is never needed for a right result. It tells whether the "
          + "disk keeps what is written to it: damage there may mean damage to scans.",
      "",
      "Prints what was read, and each file that was damaged and is deleted. Files that are not the "
          + "store's are told and left alone.",
      ""
    },
    optionListHeading = "Options:%n",
    exitCodeListHeading = "%nExit status:%n",
    exitCodeList = {
      "0:everything is as it was written",
      "1:something was damaged, and is deleted",
      "2:wrong use",
      "3:the folder cannot be read or written"
    },
    footer = {
      "%nFiles:",
      "  reads   the folder slabnote in the user's cache folder, no job",
      "  writes  deletes there what is damaged",
      "",
      "Example:",
      "  slabnote store verify"
    })
final class StoreVerifyCommand implements Callable<Integer> {
  private final Terminal terminal;
  private final Bench bench;

  @Mixin
  @SuppressWarnings("UnusedVariable") // picocli reads it
  private final HelpOption help = new HelpOption();

  StoreVerifyCommand(Terminal terminal, Bench bench) {
    this.terminal = terminal;
    this.bench = bench;
  }

  @Override
  public Integer call() {
    Remembered remembered = bench.remembered();
    boolean whole = verify(remembered, "steps", remembered.steps());
    whole &= verify(remembered, "cells", remembered.cells());
    return whole ? Status.DONE : Status.NO;
  }

  private boolean verify(Remembered remembered, String what, Store store) {
    StoreCheck check = StoreFaults.guard(remembered, "read", store::verify);
    int damaged = check.damaged().size();
    terminal
        .out()
        .println(what + ": " + StoreCommand.counted(check.values(), "value") + ", "
            + StoreCommand.counted(check.keys(), "key") + ", " + ByteSize.words(check.bytes())
            + (damaged == 0
                ? ": as written"
                : "; " + StoreCommand.counted(damaged, "damaged file") + " deleted"));
    for (Path file : check.damaged()) {
      terminal.out().println("deleted: " + file);
    }
    if (check.astray() > 0) {
      terminal
          .out()
          .println(
              StoreCommand.counted(check.astray(), "key") + " led to no value any more; deleted");
    }
    for (Path file : check.foreign()) {
      terminal.err().println(file + ": not of the store; left alone");
    }
    return damaged == 0;
  }
}
