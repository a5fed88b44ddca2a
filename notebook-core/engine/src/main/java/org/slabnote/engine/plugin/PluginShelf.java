package org.slabnote.engine.plugin;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.slabnote.api.Plugin;
import org.slabnote.api.codec.Canonical;
import org.slabnote.engine.cache.SealedFile;
import org.slabnote.engine.job.PinnedJar;
import org.slabnote.engine.job.PinnedPlugin;
import org.slabnote.engine.job.PluginsLock;
import org.slabnote.engine.problem.Fault;
import org.slabnote.worker.PluginDescriber;
import org.slabnote.worker.PluginDescription;
import org.slabnote.worker.PluginJars;

/**
 * What plugins of third parties say of themselves, asked once for the same bytes and then remembered
 * in the cache folder, by the digests of their jars, the Java and the Slabnote at work.
 *
 * <p>Beside it stands which plugins somebody on this machine has allowed, by the digests of their
 * jars: nothing of any other is loaded, so a job that comes from a stranger runs no code of his but
 * its cells. A cache folder that is emptied forgets this too; then one is asked again.
 *
 * @since 0.1
 */
public final class PluginShelf {
  private static final String FORMAT = "slabnote plugin 1";

  private final Path folder;
  private final PluginDescriber describer;
  private final String slabnote;

  /**
   * A pinned plugin, and what it says of itself.
   *
   * @param pinned the plugin
   * @param jars its jars where they lie
   * @param description what it says, or why it cannot be used
   */
  public record Described(PinnedPlugin pinned, PluginJars jars, PluginDescription description) {}

  /**
   * Opens it.
   *
   * @param cache the cache folder; made where it is missing
   * @param describer loads a plugin away from this process
   * @param slabnote version of this Slabnote
   */
  public PluginShelf(Path cache, PluginDescriber describer, String slabnote) {
    this.folder = cache.resolve(PluginsLock.FOLDER);
    this.describer = describer;
    this.slabnote = slabnote;
  }

  /** The folder in which what is made of plugins is remembered. */
  Path folder() {
    return folder;
  }

  /** Whether somebody on this machine has allowed these very jars to run. */
  boolean isAllowed(PinnedPlugin plugin) {
    return Files.isRegularFile(mark(plugin));
  }

  /** Allows these very jars to run on this machine, in whatever job pins them. */
  void allow(PinnedPlugin plugin) {
    Path mark = mark(plugin);
    try {
      Files.createDirectories(mark.getParent());
      Files.writeString(mark, plugin.id() + " " + plugin.own().coordinates() + "\n");
    } catch (IOException e) {
      throw new Fault(
          "the cache folder " + folder + " cannot be written (" + e.getMessage()
              + "). Allow writing there, or set XDG_CACHE_HOME to another folder",
          e);
    }
  }

  private Path mark(PinnedPlugin plugin) {
    return folder
        .resolve("allowed")
        .resolve(Canonical.digest(plugin.jars().stream().map(PinnedJar::sha256).toList()));
  }

  /**
   * Returns what a pinned plugin says of itself.
   *
   * @param jars the folder that the lock's jars are relative to
   */
  public Described describe(PinnedPlugin pinned, Path jars) {
    PluginJars plugin = jars(pinned, jars);
    return new Described(pinned, plugin, describe(plugin));
  }

  /**
   * Returns what a plugin says of itself that is not pinned yet.
   *
   * @param sources its jars where they lie, its own first
   * @param pins what would be pinned, in the same order
   */
  PluginDescription describe(List<Path> sources, List<PinnedJar> pins) {
    List<PluginJars.Jar> jars = new ArrayList<>();
    for (int i = 0; i < pins.size(); i++) {
      jars.add(new PluginJars.Jar(
          pins.get(i).file(),
          sources.get(i).toAbsolutePath().normalize().toString(),
          pins.get(i).sha256()));
    }
    PinnedJar own = pins.get(0);
    return describe(new PluginJars("", own.group(), own.artifact(), own.version(), jars));
  }

  private PluginDescription describe(PluginJars plugin) {
    Optional<String> unfit = unfit(plugin);
    if (unfit.isPresent()) {
      return PluginDescription.unfit(unfit.get());
    }
    Path entry = folder.resolve(key(plugin));
    return SealedFile.read(entry, PluginDescription.class).orElseGet(() -> {
      PluginDescription description = describer.describe(plugin);
      if (description.problem().isEmpty()) {
        SealedFile.write(entry, description); // a failure may be the machine's: asked again
      }
      return description;
    });
  }

  private Optional<String> unfit(PluginJars plugin) {
    try {
      return ApiVersion.unfit(JarFacts.read(Path.of(plugin.own().path())).apiVersion(), slabnote);
    } catch (IOException e) {
      return Optional.of("it is no jar that can be read (" + e.getMessage() + ")");
    }
  }

  private static PluginJars jars(PinnedPlugin pinned, Path folder) {
    List<PluginJars.Jar> jars = pinned.jars().stream()
        .map(jar -> new PluginJars.Jar(
            jar.path(),
            folder.resolve(jar.file()).toAbsolutePath().normalize().toString(),
            jar.sha256()))
        .toList();
    PinnedJar own = pinned.own();
    return new PluginJars(pinned.id(), own.group(), own.artifact(), own.version(), jars);
  }

  private String key(PluginJars plugin) {
    return Canonical.digest(List.of(
        FORMAT,
        slabnote,
        apiRevision(),
        Runtime.version().toString(),
        plugin.id(),
        plugin.jars().stream().map(PluginJars.Jar::sha256).toList()));
  }

  /** During development the version stands still while the API changes: when its jar was made. */
  private static String apiRevision() {
    try {
      Path home = Path.of(
          Plugin.class.getProtectionDomain().getCodeSource().getLocation().toURI());
      return Files.getLastModifiedTime(home).toString();
    } catch (IOException | java.net.URISyntaxException e) {
      return "";
    }
  }
}
