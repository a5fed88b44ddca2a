package org.slabnote.engine.plugin;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import org.slabnote.api.codec.Canonical;
import org.slabnote.engine.job.Job;
import org.slabnote.engine.job.JobPlugins;
import org.slabnote.engine.job.PinnedJar;
import org.slabnote.engine.job.PinnedPlugin;
import org.slabnote.engine.job.PluginsLock;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Problem;
import org.slabnote.worker.PluginDescription;

/**
 * Pins plugins of third parties to a job, lists them and takes them away.
 *
 * <p>A plugin is pinned with the libraries it is given: its jar lies in {@code plugins/}, each
 * library in {@code plugins/ID/}, and {@code plugins.lock} has a line for each.
 *
 * @since 0.1
 */
public final class PluginPins {
  private final Path job;
  private final PluginFiles files;
  private final PluginShelf shelf;
  private final Map<String, String> taken;

  /**
   * What would be pinned.
   *
   * @param pin the lines of the lock
   * @param sources the jars that were looked at, in the order of the lines
   * @param facts what the jars state of themselves, in the same order
   * @param description what the plugin says of itself
   * @param replaces what is pinned under its id now
   */
  public record Offer(
      PinnedPlugin pin,
      List<Path> sources,
      List<JarFacts> facts,
      PluginDescription description,
      Optional<PinnedPlugin> replaces) {
    /** Copies the lists. */
    public Offer {
      sources = List.copyOf(sources);
      facts = List.copyOf(facts);
    }
  }

  /**
   * A pinned plugin as it stands.
   *
   * @param pinned the plugin
   * @param problem why nothing of it is loaded; empty where it can be used
   */
  public record Standing(PinnedPlugin pinned, String problem) {}

  /**
   * Opens the plugins of a job.
   *
   * @param job the job folder
   * @param shelf knows what plugins are
   * @param taken places of the ids and packages that bundled plugins have
   */
  public PluginPins(Path job, PluginShelf shelf, Map<String, String> taken) {
    this.job = job;
    this.files = new PluginFiles(job);
    this.shelf = shelf;
    this.taken = Map.copyOf(taken);
  }

  /**
   * Looks at a plugin, loading it in a process that is thrown away, and pins nothing.
   *
   * @param jar the plugin's own jar
   * @param libraries libraries that it brings beside its jar, in the order in which they are searched
   * @throws BadInput if it cannot be used in this job, with the reason
   */
  public Offer look(Path jar, List<Path> libraries) throws BadInput {
    List<PinnedPlugin> now = pinned();
    List<Path> sources = new ArrayList<>(List.of(jar));
    sources.addAll(libraries);
    List<JarFacts> facts = new ArrayList<>();
    List<PinnedJar> pins = new ArrayList<>();
    for (Path source : sources) {
      JarFacts of = facts(source);
      facts.add(of);
      pins.add(
          new PinnedJar(of.group(), of.artifact(), of.version(), fileName(source), digest(source)));
    }
    PluginDescription description = shelf.describe(sources, pins);
    if (!description.problem().isEmpty()) {
      throw refused(jar, "it cannot be used: " + description.problem() + ". Nothing was pinned");
    }
    String id = description.id();
    checkNames(jar, description, now);
    PinnedPlugin pin = new PinnedPlugin(id, placed(id, pins, now));
    Optional<PinnedPlugin> before =
        now.stream().filter(one -> one.id().equals(id)).findFirst();
    return new Offer(pin, sources, facts, description, before);
  }

  private void checkNames(Path jar, PluginDescription description, List<PinnedPlugin> now)
      throws BadInput {
    Map<String, String> places = new LinkedHashMap<>(taken);
    for (PinnedPlugin other : now) {
      if (!other.id().equals(description.id()) && shelf.isAllowed(other)) {
        shelf
            .describe(other, job.resolve(PluginsLock.FOLDER))
            .description()
            .exportedPackages()
            .forEach(name -> places.put("package " + name, other.own().path()));
      }
    }
    String place = places.get("plugin " + description.id());
    if (place != null) {
      throw refused(
          jar,
          "its id, " + description.id() + ", is that of " + place
              + ". A plugin needs an id of its own: ask its author for one. Nothing was pinned");
    }
    Optional<String> reserved =
        description.exportedPackages().stream().filter(JobTools::isReserved).findFirst();
    if (reserved.isPresent()) {
      throw refused(
          jar,
          "it exports the package " + reserved.get()
              + ", which is not its to export. Nothing was pinned");
    }
    for (String name : description.exportedPackages()) {
      String other = places.get("package " + name);
      if (other != null) {
        throw refused(
            jar,
            "it exports the package " + name + " to cells, as " + other
                + " does. Give one of the two up. Nothing was pinned");
      }
    }
  }

  /** Returns the jars with the places they get: another plugin's file of one name is left alone. */
  private static List<PinnedJar> placed(String id, List<PinnedJar> jars, List<PinnedPlugin> now) {
    Set<String> others = now.stream()
        .filter(one -> !one.id().equals(id))
        .flatMap(one -> one.jars().stream())
        .map(PinnedJar::file)
        .collect(Collectors.toSet());
    List<PinnedJar> placed = new ArrayList<>();
    for (PinnedJar jar : jars) {
      String file = placed.isEmpty()
          ? others.contains(jar.file()) ? id + "-" + jar.file() : jar.file()
          : id + "/" + jar.file();
      placed.add(new PinnedJar(jar.group(), jar.artifact(), jar.version(), file, jar.sha256()));
    }
    return placed;
  }

  /**
   * Pins what was looked at: copies the jars whole, then writes the lock, then deletes what it
   * replaces.
   *
   * @throws BadInput if a jar changed since it was looked at
   */
  public void add(Offer offer) throws BadInput {
    for (int i = 0; i < offer.sources().size(); i++) {
      if (!files.copy(offer.sources().get(i), offer.pin().jars().get(i))) {
        throw refused(
            offer.sources().get(i),
            "it changed since it was looked at. Nothing was pinned: try again");
      }
    }
    List<PinnedPlugin> all = new ArrayList<>(pinned());
    all.removeIf(one -> one.id().equals(offer.pin().id()));
    all.add(offer.pin());
    shelf.allow(offer.pin());
    files.write(all);
    offer.replaces().ifPresent(before -> files.delete(before, offer.pin()));
  }

  /**
   * Looks at a plugin that is pinned already, loading it in a process that is thrown away.
   *
   * @throws BadInput if none of this id is pinned, its jars are not those pinned, or it cannot be used
   */
  public Offer look(String id) throws BadInput {
    PinnedPlugin plugin = pinned(id);
    String problem = standing(plugin);
    if (!problem.isEmpty()) {
      throw new BadInput(new Problem(Problem.Kind.PLUGIN, plugin.own().path(), 0, "", problem));
    }
    List<Path> sources =
        plugin.jars().stream().map(jar -> job.resolve(jar.path())).toList();
    List<JarFacts> facts = new ArrayList<>();
    for (Path source : sources) {
      facts.add(facts(source));
    }
    PluginDescription description =
        shelf.describe(plugin, job.resolve(PluginsLock.FOLDER)).description();
    if (!description.problem().isEmpty()) {
      throw refused(sources.get(0), "it cannot be used: " + description.problem());
    }
    return new Offer(plugin, sources, facts, description, Optional.empty());
  }

  /**
   * Allows the jars that are pinned for a plugin to run on this machine, in whatever job pins them.
   *
   * @throws BadInput if none of this id is pinned
   */
  public void allow(String id) throws BadInput {
    shelf.allow(pinned(id));
  }

  private PinnedPlugin pinned(String id) throws BadInput {
    List<PinnedPlugin> all = pinned();
    for (PinnedPlugin plugin : all) {
      if (plugin.id().equals(id)) {
        return plugin;
      }
    }
    throw new BadInput(new Problem(
        Problem.Kind.PLUGIN,
        PluginsLock.FILE,
        0,
        "",
        "no plugin " + id + " is pinned; there "
            + (all.isEmpty()
                ? "is none"
                : "are " + String.join(", ", all.stream().map(PinnedPlugin::id).toList()))));
  }

  /**
   * Takes a plugin away: its lines first, then its jars.
   *
   * @return what was pinned
   * @throws BadInput if none of this id is pinned
   */
  public PinnedPlugin remove(String id) throws BadInput {
    PinnedPlugin gone = pinned(id);
    List<PinnedPlugin> all = new ArrayList<>(pinned());
    all.remove(gone);
    files.write(all);
    files.delete(gone, null);
    return gone;
  }

  /**
   * Returns the pinned plugins as they stand, and jars that are there and not pinned.
   *
   * @throws BadInput if the lock cannot be read
   */
  public List<Standing> list() throws BadInput {
    List<Standing> standings = new ArrayList<>();
    for (PinnedPlugin plugin : pinned()) {
      standings.add(new Standing(plugin, problem(plugin)));
    }
    return standings;
  }

  /** Returns jars that lie in {@code plugins/} and are not pinned. */
  public List<Problem> unlisted() throws BadInput {
    return JobPlugins.unlisted(job, pinned());
  }

  private String problem(PinnedPlugin plugin) {
    String problem = standing(plugin);
    if (!problem.isEmpty()) {
      return problem;
    }
    return shelf.isAllowed(plugin)
        ? shelf.describe(plugin, job.resolve(PluginsLock.FOLDER)).description().problem()
        : JobTools.NOT_ALLOWED + plugin.id();
  }

  /** Returns how its jars differ from those pinned; empty where they do not. */
  private String standing(PinnedPlugin plugin) {
    for (PinnedJar jar : plugin.jars()) {
      Path path = job.resolve(jar.path());
      if (!Files.isRegularFile(path)) {
        return jar.path() + " is not there";
      }
      try {
        String now = Canonical.sha256(Files.readAllBytes(path));
        if (!now.equals(jar.sha256())) {
          return jar.path() + " changed: pinned is SHA-256 " + jar.sha256() + ", it has " + now;
        }
      } catch (IOException e) {
        return jar.path() + " cannot be read";
      }
    }
    return "";
  }

  private List<PinnedPlugin> pinned() throws BadInput {
    if (!Files.exists(job.resolve(Job.SHEET))) {
      throw new BadInput(Problem.inFile(
          job.toString(),
          0,
          "this is no job folder: it has no " + Job.SHEET
              + ". Make a job with: slabnote new JOB --survey FILE"));
    }
    Path lock = job.resolve(PluginsLock.FILE);
    if (!Files.exists(lock)) {
      return List.of();
    }
    try {
      return PluginsLock.parse(Files.readString(lock));
    } catch (IOException e) {
      throw new BadInput(new Problem(
          Problem.Kind.PLUGIN,
          PluginsLock.FILE,
          0,
          "",
          "the file cannot be read. Check that it is text and that you may read it"));
    }
  }

  private static JarFacts facts(Path jar) throws BadInput {
    if (!Files.isRegularFile(jar)) {
      throw refused(jar, "there is no such file; expected a jar");
    }
    try {
      return JarFacts.read(jar);
    } catch (IOException e) {
      throw refused(
          jar,
          "it is no jar that can be read (" + e.getMessage()
              + "). Get it again from its source. Nothing was pinned");
    }
  }

  private static String digest(Path jar) throws BadInput {
    try {
      return Canonical.sha256(Files.readAllBytes(jar));
    } catch (IOException e) {
      throw refused(jar, "it cannot be read. Check that you may read it");
    }
  }

  private static String fileName(Path jar) {
    String name = String.valueOf(jar.getFileName())
        .replaceAll("[^A-Za-z0-9_.+-]", "-")
        .replaceFirst("^[^A-Za-z0-9_]+", "");
    return name.endsWith(".jar") && name.length() > 4 ? name : name + ".jar";
  }

  private static BadInput refused(Path jar, String message) {
    return new BadInput(
        new Problem(Problem.Kind.PLUGIN, String.valueOf(jar.getFileName()), 0, "", message));
  }
}
