package org.slabnote.engine.job;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Problem;

/**
 * The plugins of a job, as its lock and its folder {@code plugins/} say it.
 *
 * @param pinned all that the lock pins
 * @param present those whose jars are there as they were pinned
 * @param warnings jars that are pinned and not there, and jars that are there and not pinned:
 *     nothing of either is loaded
 * @since 0.1
 */
public record JobPlugins(
    List<PinnedPlugin> pinned, List<PinnedPlugin> present, List<Problem> warnings) {
  /** A job without plugins of its own. */
  public static final JobPlugins NONE = new JobPlugins(List.of(), List.of(), List.of());

  /** Copies the lists. */
  public JobPlugins {
    pinned = List.copyOf(pinned);
    present = List.copyOf(present);
    warnings = List.copyOf(warnings);
  }

  /**
   * Reads the lock and compares the jars with it.
   *
   * @param known digests of files as far as they are known
   * @throws BadInput if the lock cannot be read, or a jar is not the one that was pinned
   */
  public static JobPlugins open(Path folder, ScanDigests known) throws BadInput {
    Path jars = folder.resolve(PluginsLock.FOLDER);
    boolean locked = Files.exists(folder.resolve(PluginsLock.FILE));
    if (!locked && !Files.isDirectory(jars)) {
      return NONE;
    }
    List<PinnedPlugin> pinned =
        locked ? PluginsLock.parse(Job.text(folder, PluginsLock.FILE)) : List.of();
    List<Problem> changed = new ArrayList<>();
    List<Problem> warnings = new ArrayList<>();
    List<PinnedPlugin> present = new ArrayList<>();
    for (PinnedPlugin plugin : pinned) {
      int before = changed.size() + warnings.size();
      for (PinnedJar jar : plugin.jars()) {
        compare(plugin, jar, jars, known, changed, warnings);
      }
      if (changed.size() + warnings.size() == before) {
        present.add(plugin);
      }
    }
    if (!changed.isEmpty()) {
      throw new BadInput(changed);
    }
    warnings.addAll(unlisted(folder, pinned));
    return new JobPlugins(pinned, present, warnings);
  }

  private static void compare(
      PinnedPlugin plugin,
      PinnedJar jar,
      Path jars,
      ScanDigests known,
      List<Problem> changed,
      List<Problem> warnings) {
    Path path = jars.resolve(jar.file());
    if (!Files.isRegularFile(path)) {
      warnings.add(problem(
          jar.path(),
          "the jar is not there, so plugin " + plugin.id() + " is set aside. Pinned is "
              + jar.coordinates() + " with SHA-256 " + jar.sha256()
              + ". Put that jar there, or give the plugin up: slabnote plugin remove JOB "
              + plugin.id()));
      return;
    }
    String now;
    try {
      now = known.of(path);
    } catch (IOException e) {
      changed.add(problem(
          jar.path(),
          "the jar cannot be read (" + e.getClass().getSimpleName()
              + "). Check that you may read it"));
      return;
    }
    if (!now.equals(jar.sha256())) {
      changed.add(problem(
          jar.path(),
          "the jar is not the one that was pinned: " + PluginsLock.FILE + " has SHA-256 "
              + jar.sha256() + ", the file has " + now
              + ". Put the pinned one back, or pin this one: slabnote plugin add JOB "
              + plugin.own().path()));
    }
  }

  /**
   * Returns the jars that lie in the folder of plugins and are not pinned.
   *
   * @throws BadInput if the folder cannot be listed
   */
  public static List<Problem> unlisted(Path folder, List<PinnedPlugin> pinned) throws BadInput {
    Path jars = folder.resolve(PluginsLock.FOLDER);
    if (!Files.isDirectory(jars)) {
      return List.of();
    }
    Set<String> listed = pinned.stream()
        .flatMap(plugin -> plugin.jars().stream())
        .map(PinnedJar::file)
        .collect(Collectors.toCollection(TreeSet::new));
    try (Stream<Path> files = Files.walk(jars)) {
      return files
          .filter(file -> file.toString().endsWith(".jar") && Files.isRegularFile(file))
          .map(file -> jars.relativize(file).toString().replace('\\', '/'))
          .filter(file -> !listed.contains(file))
          .sorted()
          .map(file -> problem(
              PluginsLock.FOLDER + "/" + file,
              PluginsLock.FILE + " does not list this jar, so nothing of it is loaded. Pin it: "
                  + "slabnote plugin add JOB " + PluginsLock.FOLDER + "/" + file
                  + ", or take it away"))
          .toList();
    } catch (IOException | UncheckedIOException e) {
      throw new BadInput(
          problem(PluginsLock.FOLDER, "the folder cannot be listed. Check that you may read it"));
    }
  }

  private static Problem problem(String file, String message) {
    return new Problem(Problem.Kind.PLUGIN, file, 0, "", message);
  }

  /** Returns a pinned plugin. */
  public Optional<PinnedPlugin> pinned(String id) {
    return pinned.stream().filter(plugin -> plugin.id().equals(id)).findFirst();
  }
}
