package org.slabnote.app;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.slabnote.engine.job.PinnedJar;
import org.slabnote.engine.plugin.PluginPins;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Problem;
import org.slabnote.engine.run.Toolbox;
import org.slabnote.worker.PluginDescription;

/** Shows what a plugin declares, and asks whether it may be used. */
final class PluginShow {
  private final Terminal terminal;

  PluginShow(Terminal terminal) {
    this.terminal = terminal;
  }

  /**
   * Shows a plugin and asks.
   *
   * @param yes whether the answer is known to be yes
   * @param question what to ask
   * @param done what was not done where the answer is no
   * @throws BadInput if the answer is no, or nobody can be asked
   */
  void ask(PluginPins.Offer offer, boolean yes, String question, String done) throws BadInput {
    show(offer);
    terminal.out().flush();
    if (!yes && !terminal.canAsk()) {
      throw said(
          offer, "nobody is there to ask, so nothing was " + done + ". Say --yes to go on unasked");
    }
    if (!yes && !terminal.ask(question)) {
      throw said(offer, "nothing was " + done + ", as you said");
    }
  }

  private static BadInput said(PluginPins.Offer offer, String message) {
    String jar = String.valueOf(offer.sources().get(0).getFileName());
    return new BadInput(new Problem(Problem.Kind.PLUGIN, jar, 0, "", message));
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
    String path = offer.facts().get(0).classPath();
    if (!path.isEmpty()) {
      beside.add("(Class-Path of the jar is not followed: " + path + ")");
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
