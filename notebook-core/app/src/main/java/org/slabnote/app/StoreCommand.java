package org.slabnote.app;

import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import org.slabnote.engine.run.Remembered;
import org.slabnote.worker.store.ByteSize;
import org.slabnote.worker.store.StoreFacts;
import org.slabnote.worker.store.StoreLimit;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** Shows what is remembered of steps and cells, and sets how much that may be. */
@Command(
    name = "store",
    header = "Show what is remembered of steps; trim, verify or clear it.",
    synopsisHeading = "%nUsage: ",
    customSynopsis = {
      "slabnote store [--limit SIZE]",
      "       slabnote store trim [--to SIZE]",
      "       slabnote store verify",
      "       slabnote store clear"
    },
    description = {
      "",
      "Runs of all jobs remember the values of steps in one folder, so that the next run computes only "
          + "what is new. Whatever is read from there is verified first. Losing it loses time, never "
          + "a result.",
      "",
      "Prints where the folder is, what it holds, when it was used, and its limit. A run that goes "
          + "beyond the limit deletes what was used longest ago.",
      ""
    },
    optionListHeading = "Options:%n",
    commandListHeading = "%nCommands:%n",
    exitCodeListHeading = "%nExit status:%n",
    exitCodeList = {
      "0:done",
      "2:wrong use; nothing was changed",
      "3:the folder cannot be read or written"
    },
    footer = {
      "%nFiles:",
      "  reads   the folder slabnote in the user's cache folder ($XDG_CACHE_HOME or",
      "          ~/.cache, %%LOCALAPPDATA%%, ~/Library/Caches), no job",
      "  writes  with --limit, the limit, there",
      "",
      "Examples:",
      "  slabnote store",
      "  slabnote store --limit \"10 GB\""
    })
final class StoreCommand implements Callable<Integer> {
  private final Terminal terminal;
  private final Bench bench;

  @Spec
  @SuppressWarnings("NullAway.Init") // set by picocli
  private CommandSpec spec;

  @Option(
      names = "--limit",
      paramLabel = "SIZE",
      description =
          "Set how much the steps may take, from 10 MB up: 500MB, 4GB. It stays set, for all jobs.")
  private @Nullable String limit;

  @Mixin
  @SuppressWarnings("UnusedVariable") // picocli reads it
  private final HelpOption help = new HelpOption();

  StoreCommand(Terminal terminal, Bench bench) {
    this.terminal = terminal;
    this.bench = bench;
  }

  /** The command with those below it. */
  static CommandLine with(Terminal terminal, Bench bench) {
    return new CommandLine(new StoreCommand(terminal, bench))
        .addSubcommand(new StoreTrimCommand(terminal, bench))
        .addSubcommand(new StoreVerifyCommand(terminal, bench))
        .addSubcommand(new StoreClearCommand(terminal, bench));
  }

  /** The size that an option gives. */
  static long size(CommandSpec spec, String option, String text, long least) {
    return ByteSize.parse(text)
        .filter(bytes -> bytes >= least)
        .orElseThrow(() -> new ParameterException(
            spec.commandLine(),
            option + " = " + text + "; expected a size"
                + (least == 0 ? "" : " of at least " + ByteSize.words(least))
                + ", such as 500MB or 4GB"));
  }

  @Override
  public Integer call() {
    Remembered remembered = bench.remembered();
    String asked = limit;
    if (asked != null) {
      long bytes = size(spec, "--limit", asked, StoreLimit.LEAST);
      StoreFaults.guard(remembered, "written", () -> {
        StoreLimit.set(remembered.stepsFolder(), bytes);
        return bytes;
      });
    }
    StoreFacts steps =
        StoreFaults.guard(remembered, "read", () -> remembered.steps().facts());
    StoreFacts cells =
        StoreFaults.guard(remembered, "read", () -> remembered.cells().facts());
    List<List<String>> rows = new ArrayList<>();
    rows.add(List.of("folder", remembered.cache().toString()));
    rows.add(List.of("steps", told(steps)));
    rows.add(List.of("cells", told(cells)));
    rows.add(List.of("oldest use", minute(steps.oldest())));
    rows.add(List.of("newest use", minute(steps.newest())));
    rows.add(List.of(
        "limit",
        ByteSize.words(StoreLimit.of(remembered.stepsFolder())) + " for steps, "
            + ByteSize.words(remembered.cellsLimit()) + " for cells"));
    Aligned.lines(rows).forEach(terminal.out()::println);
    return Status.DONE;
  }

  static String told(StoreFacts facts) {
    return counted(facts.values(), "value") + ", " + counted(facts.keys(), "key") + ", "
        + ByteSize.words(facts.bytes());
  }

  static String counted(int count, String what) {
    return count + " " + what + (count == 1 ? "" : "s");
  }

  private static String minute(Optional<Instant> time) {
    return time.map(at ->
            at.truncatedTo(ChronoUnit.MINUTES).toString().replace('T', ' ').replace(":00Z", " UTC"))
        .orElse("never");
  }
}
