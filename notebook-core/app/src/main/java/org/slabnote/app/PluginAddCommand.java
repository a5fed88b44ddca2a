package org.slabnote.app;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.Callable;
import org.slabnote.engine.job.PinnedJar;
import org.slabnote.engine.plugin.JarFacts;
import org.slabnote.engine.plugin.PluginPins;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Problem;
import org.slabnote.engine.run.Toolbox;
import org.slabnote.worker.PluginDescription;
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
      "To learn what it declares, the plugin is loaded in a process that is thrown away. Nothing is "
          + "written before you have seen it and said yes.",
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
    show(offer);
    terminal.out().flush();
    if (!yes && !terminal.canAsk()) {
      throw said("nobody is there to ask, so nothing was pinned. Say --yes to pin it unasked");
    }
    if (!yes && !terminal.ask("Pin it to " + job + "?")) {
      throw said("nothing was pinned, as you said");
    }
    pins.add(offer);
    terminal.out().println("Pinned. A cell names its types after: " + imports(offer));
    return Status.DONE;
  }

  private BadInput said(String message) {
    return new BadInput(
        new Problem(Problem.Kind.PLUGIN, String.valueOf(jar.getFileName()), 0, "", message));
  }

  private static String imports(PluginPins.Offer offer) {
    List<String> packages = offer.description().exportedPackages();
    return packages.isEmpty()
        ? "nothing: it exports no package"
        : "import " + packages.get(0) + ".*;";
  }

  private void show(PluginPins.Offer offer) {
    PluginDescription plugin = offer.description();
    PinnedJar own = offer.pin().own();
    List<List<String>> rows = new ArrayList<>();
    row(rows, "jar", own.path());
    row(rows, "coordinates", own.coordinates() + (own.version().isEmpty() ? " (no version)" : ""));
    row(rows, "SHA-256", own.sha256());
    String api = offer.facts().get(0).apiVersion();
    row(
        rows,
        "made for",
        api.isEmpty() ? "a plugin API that it does not state" : "plugin API " + api);
    row(rows, "this is", "plugin API " + Toolbox.ownVersion());
    rows(rows, "operations", operations(plugin));
    rows(rows, "scan formats", formats(plugin));
    rows(rows, "exports to cells", plugin.exportedPackages());
    rows(rows, "libraries inside", offer.facts().get(0).inside());
    rows(rows, "hidden packages", hidden(offer));
    rows(rows, "libraries beside", beside(offer));
    offer
        .replaces()
        .ifPresent(before -> row(
            rows,
            "replaces",
            before.own().coordinates() + ", SHA-256 " + before.own().sha256()));
    terminal.out().println(terminal.heading("Plugin " + plugin.id()) + ": " + plugin.summary());
    Aligned.lines(rows).forEach(line -> terminal.out().println("  " + line));
    terminal
        .out()
        .println("It is not confined as cells are: it runs in the worker with your rights.");
  }

  private static List<String> operations(PluginDescription plugin) {
    return plugin.operations().stream()
        .map(one -> one.id() + "/" + one.revision() + "  "
            + one.purpose().toLowerCase(Locale.ROOT).replace('_', ' '))
        .toList();
  }

  private static List<String> formats(PluginDescription plugin) {
    return plugin.formats().stream().map(one -> one.id() + "/" + one.revision()).toList();
  }

  private static List<String> hidden(PluginPins.Offer offer) {
    return offer.facts().get(0).packages().stream()
        .filter(name -> !offer.description().exportedPackages().contains(name))
        .toList();
  }

  private static List<String> beside(PluginPins.Offer offer) {
    List<String> beside = new ArrayList<>();
    List<PinnedJar> jars = offer.pin().jars();
    for (PinnedJar library : jars.subList(1, jars.size())) {
      beside.add(library.coordinates() + "  " + library.path() + "  SHA-256 " + library.sha256());
    }
    for (JarFacts facts : offer.facts().subList(0, 1)) {
      if (!facts.classPath().isEmpty()) {
        beside.add("(Class-Path of the jar is not followed: " + facts.classPath() + ")");
      }
    }
    return beside;
  }

  private static void rows(List<List<String>> rows, String name, List<String> values) {
    if (values.isEmpty()) {
      row(rows, name, "none");
    }
    for (int i = 0; i < values.size(); i++) {
      row(rows, i == 0 ? name : "", values.get(i));
    }
  }

  private static void row(List<List<String>> rows, String name, String value) {
    rows.add(List.of(name, value));
  }
}
