package org.slabnote.engine.run;

import java.io.File;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.net.URISyntaxException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.Iterator;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Properties;
import java.util.ServiceConfigurationError;
import java.util.ServiceLoader;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.concurrent.ConcurrentHashMap;
import org.slabnote.api.Notebook;
import org.slabnote.api.Plugin;
import org.slabnote.api.codec.Canonical;
import org.slabnote.engine.job.Job;
import org.slabnote.engine.plugin.JobTools;
import org.slabnote.engine.plugin.PluginShelf;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Fault;
import org.slabnote.engine.problem.Problem;

/**
 * What is at hand for a run: the plugins, and the class paths of cells and worker.
 *
 * <p>Bundled plugins are found with {@link ServiceLoader} on the class path. One that cannot be
 * loaded is named in {@link #problems()} and set aside; none at all is a fault of the installation.
 * Plugins of third parties come with a job and are never loaded in this process.
 *
 * @since 0.1
 */
public final class Toolbox {
  /** What every cell sees without an import of its own, beside the plugins' exported packages. */
  static final List<String> IMPORTS = List.of(
      "org.slabnote.api.*",
      "static org.slabnote.api.Notebook.*",
      "static org.slabnote.api.Orientation.*",
      "org.slabnote.api.quantity.*",
      "static org.slabnote.api.quantity.Quantities.*",
      "java.util.*",
      "java.util.function.*",
      "java.util.stream.*");

  /** Libraries that cells may use beside the API, each named by a class of it. */
  private static final List<String> LIBRARIES =
      List.of("org.apache.commons.math3.util.FastMath", "tech.tablesaw.api.Table");

  /**
   * A bundled plugin that loaded.
   *
   * @param plugin the plugin
   * @param home its jar or class folder
   */
  private record Loaded(Plugin plugin, Path home) {}

  private final List<Loaded> plugins;
  private final JobTools others;
  private final List<Path> classPath;
  private final List<Path> cellPath;
  private final List<Problem> problems;
  private final Set<Path> installed;
  private final Map<Path, String> digests;

  private Toolbox(
      List<Loaded> plugins,
      JobTools others,
      List<Path> classPath,
      List<Path> cellPath,
      List<Problem> problems,
      Set<Path> installed,
      Map<Path, String> digests) {
    this.plugins = List.copyOf(plugins);
    this.others = others;
    this.classPath = List.copyOf(classPath);
    this.cellPath = List.copyOf(cellPath);
    this.problems = List.copyOf(problems);
    this.installed = Set.copyOf(installed);
    this.digests = digests;
  }

  /**
   * Finds the plugins on this process's class path.
   *
   * @throws Fault if there is no plugin, or two share an id
   */
  public static Toolbox find() {
    List<Problem> problems = new ArrayList<>();
    Map<String, Loaded> byId = new TreeMap<>();
    Iterator<Plugin> found =
        ServiceLoader.load(Plugin.class, Plugin.class.getClassLoader()).iterator();
    while (true) {
      try {
        if (!found.hasNext()) {
          break;
        }
        Plugin plugin = found.next();
        Loaded loaded = new Loaded(plugin, home(plugin.getClass()));
        Loaded before = byId.putIfAbsent(plugin.id(), loaded);
        if (before != null) {
          throw new Fault("two plugins have the id " + plugin.id() + ": " + before.home() + " and "
              + loaded.home() + ". Remove one of the two");
        }
      } catch (ServiceConfigurationError | LinkageError e) {
        problems.add(new Problem(
            Problem.Kind.PLUGIN,
            "plugins",
            0,
            "",
            "a plugin cannot be loaded: "
                + e.getMessage() + ". The rest was loaded; take it away or get one that fits this "
                + "version"));
      }
    }
    if (byId.isEmpty()) {
      throw new Fault("no plugin was found on the class path; expected at least the bundled ones. "
          + "Install Slabnote again");
    }
    List<Loaded> plugins = new ArrayList<>(byId.values());
    List<Path> cells = cellPath(plugins);
    return new Toolbox(
        plugins,
        JobTools.NONE,
        wholePath(),
        cells,
        problems,
        new HashSet<>(cells),
        new ConcurrentHashMap<>());
  }

  /**
   * The same, with the plugins of third parties that a job pins.
   *
   * @param shelf knows what they are
   * @throws BadInput if two plugins share an id or export one package
   */
  Toolbox with(Job job, PluginShelf shelf) throws BadInput {
    JobTools tools = JobTools.of(job, shelf, taken());
    List<Path> path = new ArrayList<>(cellPath);
    tools.usable().forEach(one -> path.add(one.view()));
    List<Problem> all = new ArrayList<>(problems);
    all.addAll(tools.problems());
    return new Toolbox(plugins, tools, classPath, path, all, installed, digests);
  }

  /** What the bundled plugins have taken: their ids and exported packages, each with its place. */
  public Map<String, String> taken() {
    Map<String, String> taken = new LinkedHashMap<>();
    for (Loaded one : plugins) {
      String place = "the bundled plugin " + one.plugin().id();
      taken.put("plugin " + one.plugin().id(), place);
      one.plugin().exportedPackages().forEach(name -> taken.put("package " + name, place));
    }
    return taken;
  }

  /** The version of this Slabnote. */
  public static String ownVersion() {
    try (InputStream in = Toolbox.class.getResourceAsStream("version.properties")) {
      Properties properties = new Properties();
      properties.load(java.util.Objects.requireNonNull(in, "version.properties"));
      return properties.getProperty("version", "");
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** Plugins that could not be loaded. */
  public List<Problem> problems() {
    return problems;
  }

  /** The bundled plugins that loaded, in order of id. */
  public List<Plugin> plugins() {
    return plugins.stream().map(Loaded::plugin).toList();
  }

  /** Where each bundled plugin lies, by id. */
  SortedMap<String, Path> homes() {
    SortedMap<String, Path> homes = new TreeMap<>();
    plugins.forEach(one -> homes.put(one.plugin().id(), one.home()));
    return homes;
  }

  /** Whether a plugin comes with Slabnote. */
  boolean isBundled(String id) {
    return plugins.stream().anyMatch(one -> one.plugin().id().equals(id));
  }

  /** The plugins of third parties that a run loads. */
  List<JobTools.Usable> others() {
    return others.usable();
  }

  /** Why those of the job that were set aside were. */
  JobTools jobTools() {
    return others;
  }

  /** Packages that cells may use beside the API. */
  Set<String> exportedPackages() {
    Set<String> packages = new LinkedHashSet<>();
    plugins.forEach(one -> packages.addAll(one.plugin().exportedPackages()));
    others.usable().forEach(one -> packages.addAll(one.exportedPackages()));
    return packages;
  }

  /** What is imported for every cell. A stranger's types are imported by the notebook itself. */
  List<String> imports() {
    List<String> imports = new ArrayList<>(IMPORTS);
    for (Loaded one : plugins) {
      one.plugin().exportedPackages().forEach(name -> imports.add(name + ".*"));
    }
    return imports;
  }

  /** Jars and folders whose types cells may name. */
  List<Path> cellPath() {
    return cellPath;
  }

  /** The whole class path of this process, which the worker gets too. */
  public List<Path> classPath() {
    return classPath;
  }

  /** Digest of what decides how cells compile: the jars, the imports, the Java at work. */
  String compileDigest() {
    Map<String, String> parts = new LinkedHashMap<>();
    parts.put("java", Runtime.version().toString());
    parts.put("imports", String.join(",", imports()));
    cellPath.forEach(path -> parts.put(parts.size() + " " + path.getFileName(), digest(path)));
    return Canonical.sha256(parts.toString().getBytes(java.nio.charset.StandardCharsets.UTF_8));
  }

  /** What came with this process does not change under it; a job's plugins may. */
  private String digest(Path path) {
    return installed.contains(path)
        ? digests.computeIfAbsent(path, Toolbox::contentDigest)
        : contentDigest(path);
  }

  private static String contentDigest(Path path) {
    try {
      if (Files.isRegularFile(path)) {
        return Canonical.sha256(Files.readAllBytes(path));
      }
      StringBuilder all = new StringBuilder();
      try (var files = Files.walk(path)) {
        for (Path file : files.filter(Files::isRegularFile).sorted().toList()) {
          all.append(path.relativize(file)).append(Canonical.sha256(Files.readAllBytes(file)));
        }
      }
      return Canonical.sha256(all.toString().getBytes(java.nio.charset.StandardCharsets.UTF_8));
    } catch (IOException e) {
      throw new Fault(path + " cannot be read. Install Slabnote again", e);
    }
  }

  private static List<Path> cellPath(List<Loaded> plugins) {
    Set<Path> path = new LinkedHashSet<>();
    path.add(home(Notebook.class));
    plugins.forEach(one -> path.add(one.home()));
    for (String library : LIBRARIES) {
      try {
        path.add(home(Class.forName(library, false, Toolbox.class.getClassLoader())));
      } catch (ClassNotFoundException e) {
        continue; // a small installation may leave it out; a cell that names it is told so
      }
    }
    return new ArrayList<>(path);
  }

  private static List<Path> wholePath() {
    List<Path> path = new ArrayList<>();
    for (String entry : System.getProperty("java.class.path", "").split(File.pathSeparator)) {
      if (!entry.isEmpty()) {
        path.add(Path.of(entry));
      }
    }
    return path;
  }

  private static Path home(Class<?> type) {
    try {
      return Path.of(type.getProtectionDomain().getCodeSource().getLocation().toURI());
    } catch (URISyntaxException e) {
      throw new Fault("the place of " + type.getName() + " cannot be told", e);
    }
  }
}
