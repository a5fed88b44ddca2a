package org.slabnote.app;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Callable;
import org.slabnote.engine.plugin.PluginPins;
import org.slabnote.engine.problem.Problem;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Parameters;

/** Lists the plugins that a job pins, and whether they can be used. */
@Command(
    name = "list",
    header = "List the plugins that a job pins, and whether each can be used.",
    synopsisHeading = "%nUsage: ",
    description = {
      "",
      "One line for each jar: the plugin's id, its coordinates, its file and its digest; below it "
          + "the reason where it cannot be used.",
      ""
    },
    parameterListHeading = "Arguments:%n",
    optionListHeading = "%nOptions:%n",
    exitCodeListHeading = "%nExit status:%n",
    exitCodeList = {
      "0:every pinned plugin can be used",
      "1:one cannot, or a jar lies there that is not pinned",
      "2:the job has no lock that can be read",
      "3:a fault of ours or of the machine"
    },
    footer = {
      "%nFiles:",
      "  reads   JOB/plugins.lock, JOB/plugins/",
      "  writes  nothing",
      "",
      "Example:",
      "  slabnote plugin list roof-slab"
    })
final class PluginListCommand implements Callable<Integer> {
  private final Terminal terminal;
  private final Bench bench;

  @Parameters(paramLabel = "JOB", description = "The job folder.")
  @SuppressWarnings("NullAway.Init") // set by picocli
  private Path job;

  @Mixin
  @SuppressWarnings("UnusedVariable") // picocli reads it
  private final HelpOption help = new HelpOption();

  PluginListCommand(Terminal terminal, Bench bench) {
    this.terminal = terminal;
    this.bench = bench;
  }

  @Override
  public Integer call() throws Exception {
    PluginPins pins = bench.plugins(job);
    List<PluginPins.Standing> standings = pins.list();
    List<List<String>> rows = new ArrayList<>();
    rows.add(List.of("plugin", "role", "coordinates", "jar", "sha256"));
    for (PluginPins.Standing one : standings) {
      one.pinned()
          .jars()
          .forEach(jar -> rows.add(List.of(
              one.pinned().id(),
              jar.equals(one.pinned().own()) ? "plugin" : "library",
              jar.coordinates(),
              jar.path(),
              jar.sha256())));
    }
    Aligned.lines(rows).forEach(terminal.out()::println);
    List<Problem> loose = pins.unlisted();
    boolean fine = loose.isEmpty();
    for (PluginPins.Standing one : standings) {
      if (!one.problem().isEmpty()) {
        fine = false;
        terminal.err().println("plugin " + one.pinned().id() + ": " + one.problem());
      }
    }
    loose.forEach(problem -> terminal.err().println(problem.toString()));
    return fine ? Status.DONE : Status.NO;
  }
}
