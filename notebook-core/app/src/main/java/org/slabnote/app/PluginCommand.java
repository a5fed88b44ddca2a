package org.slabnote.app;

import java.util.concurrent.Callable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Spec;

/** The commands for plugins of third parties: without one of them, their help. */
@Command(
    name = "plugin",
    header = "Pin plugins of third parties to a job, list, allow or remove them.",
    synopsisHeading = "%nUsage: ",
    synopsisSubcommandLabel = "COMMAND",
    customSynopsis = {
      "slabnote plugin add JOB JAR [LIBRARY...]",
      "       slabnote plugin list JOB",
      "       slabnote plugin allow JOB ID",
      "       slabnote plugin remove JOB ID"
    },
    description = {
      "",
      "A job uses a stranger's plugin only when it is pinned: its jar lies in JOB/plugins/, and "
          + "JOB/plugins.lock has its version and its digest. A jar that is not the pinned one is "
          + "refused. Each plugin is loaded apart from all others, with the libraries pinned with it.",
      "",
      "A job that comes from somebody else may bring plugins: nothing of them runs before you allow "
          + "it.",
      "",
      "A plugin's code is not confined as cells are: it runs in the worker process with your "
          + "rights. Pin only what comes from somebody you trust.",
      ""
    },
    optionListHeading = "Options:%n",
    commandListHeading = "%nCommands:%n",
    exitCodeListHeading = "%nExit status:%n",
    exitCodeList = {
      "0:done",
      "2:wrong use, or a jar or lock that does not serve; nothing was changed",
      "3:a fault of ours or of the machine"
    },
    footer = {
      "%nFiles:",
      "  reads   JOB/plugins.lock, JOB/plugins/",
      "  writes  the same",
      "",
      "Examples:",
      "  slabnote plugin add roof-slab notch-filter-1.2.0.jar",
      "  slabnote plugin list roof-slab"
    })
final class PluginCommand implements Callable<Integer> {
  @Spec
  @SuppressWarnings("NullAway.Init") // set by picocli
  private CommandSpec spec;

  @Mixin
  @SuppressWarnings("UnusedVariable") // picocli reads it
  private final HelpOption help = new HelpOption();

  /** The command with those below it. */
  static CommandLine with(Terminal terminal, Bench bench) {
    return new CommandLine(new PluginCommand())
        .addSubcommand(new PluginAddCommand(terminal, bench))
        .addSubcommand(new PluginListCommand(terminal, bench))
        .addSubcommand(new PluginAllowCommand(terminal, bench))
        .addSubcommand(new PluginRemoveCommand(terminal, bench));
  }

  @Override
  public Integer call() {
    CommandLine line = spec.commandLine();
    line.usage(line.getErr());
    return Status.WRONG;
  }
}
