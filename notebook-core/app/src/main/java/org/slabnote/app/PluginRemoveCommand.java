package org.slabnote.app;

import java.nio.file.Path;
import java.util.concurrent.Callable;
import org.slabnote.engine.job.PinnedPlugin;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Parameters;

/** Takes a plugin away from a job. */
@Command(
    name = "remove",
    header = "Take a plugin away from a job, with its libraries.",
    synopsisHeading = "%nUsage: ",
    description = {
      "",
      "Takes its lines out of JOB/plugins.lock, then deletes its jars from JOB/plugins/.",
      ""
    },
    parameterListHeading = "Arguments:%n",
    optionListHeading = "%nOptions:%n",
    exitCodeListHeading = "%nExit status:%n",
    exitCodeList = {
      "0:taken away",
      "2:no plugin of this id is pinned; nothing was changed",
      "3:a fault of ours or of the machine"
    },
    footer = {
      "%nFiles:",
      "  reads   JOB/plugins.lock",
      "  writes  JOB/plugins.lock, then JOB/plugins/",
      "",
      "Example:",
      "  slabnote plugin remove roof-slab notch"
    })
final class PluginRemoveCommand implements Callable<Integer> {
  private final Terminal terminal;
  private final Bench bench;

  @Parameters(index = "0", paramLabel = "JOB", description = "The job folder.")
  @SuppressWarnings("NullAway.Init") // set by picocli
  private Path job;

  @Parameters(
      index = "1",
      paramLabel = "ID",
      description = "The plugin's id, as plugin list tells it.")
  @SuppressWarnings("NullAway.Init") // set by picocli
  private String id;

  @Mixin
  @SuppressWarnings("UnusedVariable") // picocli reads it
  private final HelpOption help = new HelpOption();

  PluginRemoveCommand(Terminal terminal, Bench bench) {
    this.terminal = terminal;
    this.bench = bench;
  }

  @Override
  public Integer call() throws Exception {
    PinnedPlugin gone = bench.plugins(job).remove(id);
    terminal
        .out()
        .println("Taken away: plugin " + gone.id() + ", " + gone.own().coordinates() + ", SHA-256 "
            + gone.own().sha256());
    return Status.DONE;
  }
}
