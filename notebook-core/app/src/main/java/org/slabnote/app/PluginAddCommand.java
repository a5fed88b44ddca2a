package org.slabnote.app;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Callable;
import org.slabnote.engine.plugin.PluginPins;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Shows what a plugin declares, and pins it. */
@Command(
    name = "add",
    header = "Show what a plugin declares, ask, and pin it to a job.",
    synopsisHeading = "%nUsage: ",
    description = {
      "",
      "To learn what it declares, the plugin is loaded in a process that is thrown away: its code "
          + "runs there with your rights. Nothing is written before you have seen it and said yes.",
      "",
      "A library that the plugin does not hold within its jar is given behind it and pinned with it; "
          + "only this plugin sees it. A plugin that is pinned already is replaced.",
      ""
    },
    parameterListHeading = "Arguments:%n",
    optionListHeading = "%nOptions:%n",
    exitCodeListHeading = "%nExit status:%n",
    exitCodeList = {
      "0:pinned",
      "2:the plugin does not serve, or you said no; nothing was written",
      "3:a fault of ours or of the machine"
    },
    footer = {
      "%nFiles:",
      "  reads   the jars",
      "  writes  JOB/plugins/, then JOB/plugins.lock",
      "",
      "Examples:",
      "  slabnote plugin add roof-slab notch-filter-1.2.0.jar",
      "  slabnote plugin add --yes roof-slab notch.jar fourier-3.1.jar"
    })
final class PluginAddCommand implements Callable<Integer> {
  private final Terminal terminal;
  private final Bench bench;

  @Parameters(index = "0", paramLabel = "JOB", description = "The job folder.")
  @SuppressWarnings("NullAway.Init") // set by picocli
  private Path job;

  @Parameters(index = "1", paramLabel = "JAR", description = "The plugin's jar.")
  @SuppressWarnings("NullAway.Init") // set by picocli
  private Path jar;

  @Parameters(
      index = "2..*",
      arity = "0..*",
      paramLabel = "LIBRARY",
      description = "Jars of libraries that it needs beside its own.")
  private List<Path> libraries = new ArrayList<>();

  @Option(
      names = {"-y", "--yes"},
      description = "Pin it without asking.")
  private boolean yes;

  @Mixin
  @SuppressWarnings("UnusedVariable") // picocli reads it
  private final HelpOption help = new HelpOption();

  PluginAddCommand(Terminal terminal, Bench bench) {
    this.terminal = terminal;
    this.bench = bench;
  }

  @Override
  public Integer call() throws Exception {
    PluginPins pins = bench.plugins(job);
    PluginPins.Offer offer = pins.look(jar, libraries);
    new PluginShow(terminal).ask(offer, yes, "Pin it to " + job + "?", "pinned");
    pins.add(offer);
    terminal.out().println("Pinned. A cell names its types after: " + imports(offer));
    return Status.DONE;
  }

  private static String imports(PluginPins.Offer offer) {
    List<String> packages = offer.description().exportedPackages();
    return packages.isEmpty()
        ? "nothing: it exports no package"
        : "import " + packages.get(0) + ".*;";
  }
}
