package org.slabnote.engine.plugin;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SortedSet;
import java.util.TreeSet;
import org.slabnote.engine.job.Job;
import org.slabnote.engine.job.PinnedPlugin;
import org.slabnote.engine.job.PluginsLock;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Problem;
import org.slabnote.worker.PluginJars;

/**
 * The plugins of third parties that a job may use: those that fit, and why the others do not.
 *
 * @param usable plugins that fit, in the order of the lock
 * @param aside those set aside, each with the reason
 * @since 0.1
 */
public record JobTools(List<Usable> usable, List<Aside> aside) {
  /** No plugins of third parties. */
  public static final JobTools NONE = new JobTools(List.of(), List.of());

  /** What is exported to cells or kept from them already, whatever plugin comes. */
  private static final List<String> RESERVED = List.of(
      "java.",
      "javax.",
      "jdk.",
      "sun.",
      "com.sun.",
      "org.slabnote.",
      "org.apache.commons.math3.",
      "tech.tablesaw.");

  /** Why a plugin that came with the job is not loaded. */
  static final String NOT_ALLOWED =
      "it came with the job, and nobody on this machine has allowed it "
          + "to run. If you trust its author, see what it declares and allow it: slabnote plugin allow "
          + "JOB ";

  private static final String REST = ". The rest was loaded; only a notebook that needs it stops";

  /** Copies the lists. */
  public JobTools {
    usable = List.copyOf(usable);
    aside = List.copyOf(aside);
  }

  /**
   * A plugin that fits.
   *
   * @param pinned as the job pins it
   * @param jars its jars where they lie
   * @param exportedPackages packages that cells may use
   * @param view a jar of what cells may see of it
   */
  public record Usable(
      PinnedPlugin pinned, PluginJars jars, List<String> exportedPackages, Path view) {}

  /**
   * A plugin, or a jar that nothing pins, of which nothing is loaded.
   *
   * @param problem why
   * @param jars its jars; they may not be there
   */
  public record Aside(Problem problem, List<Path> jars) {
    /** Copies the list. */
    public Aside {
      jars = List.copyOf(jars);
    }
  }

  /**
   * Looks at the plugins of a job.
   *
   * @param bundled the bundled plugins' places by id and by exported package
   * @throws BadInput if two plugins share an id or export one package: both are named
   */
  public static JobTools of(Job job, PluginShelf shelf, Map<String, String> bundled)
      throws BadInput {
    List<Usable> usable = new ArrayList<>();
    List<Aside> aside = new ArrayList<>();
    for (Problem warning : job.plugins().warnings()) {
      aside.add(new Aside(warning, List.of(job.folder().resolve(warning.file()))));
    }
    Map<String, String> taken = new LinkedHashMap<>(bundled);
    List<Problem> clashes = new ArrayList<>();
    for (PinnedPlugin pinned : job.plugins().present()) {
      if (!shelf.isAllowed(pinned)) {
        aside.add(aside(pinned, job.folder(), NOT_ALLOWED + pinned.id()));
        continue;
      }
      PluginShelf.Described plugin =
          shelf.describe(pinned, job.folder().resolve(PluginsLock.FOLDER));
      try {
        String unfit = plugin.description().problem();
        if (unfit.isEmpty()) {
          usable.add(usable(plugin, shelf));
          clashes(plugin, taken, clashes);
        } else {
          aside.add(aside(pinned, job.folder(), unfit + REST));
        }
      } catch (IOException e) {
        aside.add(aside(pinned, job.folder(), e.getMessage() + REST));
      }
    }
    if (!clashes.isEmpty()) {
      throw new BadInput(clashes);
    }
    return new JobTools(usable, aside);
  }

  private static Usable usable(PluginShelf.Described plugin, PluginShelf shelf) throws IOException {
    List<String> exported = plugin.description().exportedPackages();
    SortedSet<String> there = new TreeSet<>();
    for (PluginJars.Jar jar : plugin.jars().jars()) {
      there.addAll(JarFacts.read(Path.of(jar.path())).packages());
    }
    for (String name : exported) {
      if (!there.contains(name) || isReserved(name)) {
        throw new IOException("it exports the package " + name + ", which is not its to export");
      }
    }
    return new Usable(
        plugin.pinned(),
        plugin.jars(),
        exported,
        CellView.of(plugin.jars(), plugin.description(), shelf.folder()));
  }

  static boolean isReserved(String name) {
    return RESERVED.stream().anyMatch(prefix -> (name + ".").startsWith(prefix));
  }

  private static void clashes(
      PluginShelf.Described plugin, Map<String, String> taken, List<Problem> clashes) {
    String place = plugin.pinned().own().path();
    clash("plugin " + plugin.pinned().id(), place, taken, clashes);
    for (String name : plugin.description().exportedPackages()) {
      clash("package " + name, place, taken, clashes);
    }
  }

  private static void clash(
      String what, String place, Map<String, String> taken, List<Problem> clashes) {
    String before = taken.putIfAbsent(what, place);
    if (before != null) {
      clashes.add(new Problem(
          Problem.Kind.PLUGIN,
          place,
          0,
          "",
          (what.startsWith("package ")
                  ? "it exports the " + what + " to cells, as " + before + " does"
                  : "its id is that of " + before + ", " + what)
              + ". Give one of the two up: slabnote plugin remove JOB ID"));
    }
  }

  private static Aside aside(PinnedPlugin pinned, Path job, String why) {
    Problem problem = new Problem(
        Problem.Kind.PLUGIN,
        pinned.own().path(),
        0,
        "",
        "plugin " + pinned.id() + " (" + pinned.own().coordinates() + ") is set aside: " + why);
    return new Aside(
        problem, pinned.jars().stream().map(jar -> job.resolve(jar.path())).toList());
  }

  /** Returns why each that was set aside was. */
  public List<Problem> problems() {
    return aside.stream().map(Aside::problem).toList();
  }

  /**
   * Returns why a package that cells name may be missing: the plugin that has it was set aside. Where
   * that cannot be told since jars cannot be read, one of those.
   */
  public Optional<Problem> reasonFor(String packageName) {
    Optional<Problem> unread = Optional.empty();
    for (Aside one : aside) {
      for (Path jar : one.jars()) {
        try {
          if (JarFacts.read(jar).packages().contains(packageName)) {
            return Optional.of(one.problem());
          }
        } catch (IOException e) {
          unread = unread.isPresent() ? unread : Optional.of(one.problem());
        }
      }
    }
    return unread;
  }
}
