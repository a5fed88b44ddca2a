package org.slabnote.app;

import java.nio.file.Path;
import java.util.concurrent.Callable;
import org.slabnote.engine.plugin.PluginPins;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Allows a plugin that came with a job to run on this machine. */
@Command(
    name = "allow",
    header = "Show what a plugin that came with a job declares, ask, and allow it here.",
    synopsisHeading = "%nUsage: ",
    description = {
      "",
      "A job from somebody else may bring plugins. None of their code runs before somebody on this "
          + "machine gives this command for these very jars, or adds them.",
      "",
      "To learn what it declares, the plugin is loaded in a process that is thrown away, before you "
          + "are asked: its code runs there with your rights. Know whose it is first.",
      ""
    },
    parameterListHeading = "Arguments:%n",
    optionListHeading = "%nOptions:%n",
    exitCodeListHeading = "%nExit status:%n",
    exitCodeList = {
      "0:allowed",
      "2:it is not pinned or does not serve, or you said no; nothing was written",
      "3:a fault of ours or of the machine"
    },
    footer = {
      "%nFiles:",
      "  reads   JOB/plugins.lock, JOB/plugins/",
      "  writes  the user's cache folder; nothing in the job",
      "",
      "Example:",
      "  slabnote plugin allow roof-slab notch"
    })
final class PluginAllowCommand implements Callable<Integer> {
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

  @Option(
      names = {"-y", "--yes"},
      description = "Allow it without asking.")
  private boolean yes;

  @Mixin
  @SuppressWarnings("UnusedVariable") // picocli reads it
  private final HelpOption help = new HelpOption();

  PluginAllowCommand(Terminal terminal, Bench bench) {
    this.terminal = terminal;
    this.bench = bench;
  }

  @Override
  public Integer call() throws Exception {
    PluginPins pins = bench.plugins(job);
    new PluginShow(terminal).ask(pins.look(id), yes, "Allow it to run here?", "allowed");
    pins.allow(id);
    terminal.out().println("Allowed on this machine: plugin " + id);
    return Status.DONE;
  }
}
