package org.slabnote.engine.plugin;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.zip.ZipEntry;
import java.util.zip.ZipException;
import java.util.zip.ZipFile;
import java.util.zip.ZipOutputStream;
import org.objectweb.asm.ClassReader;
import org.slabnote.api.codec.Canonical;
import org.slabnote.engine.problem.Fault;
import org.slabnote.worker.PluginDescription;
import org.slabnote.worker.PluginJars;

/**
 * A jar of what cells may see of a plugin, for the compiler and the gate: the classes of its exported
 * packages, and of the rest only what these extend or implement, without which they do not compile.
 * Two plugins that bring one library in two versions so never meet on the class path of cells.
 */
final class CellView {
  private static final String FORMAT = "slabnote cell view 1";
  /** 1980-02-01, so that equal content gives equal bytes. */
  private static final java.time.LocalDateTime TIME = java.time.LocalDateTime.of(1980, 2, 1, 0, 0);

  private CellView() {}

  /**
   * Returns the jar, made where it is not there yet.
   *
   * @param folder where such jars are kept
   * @throws IOException if a jar of the plugin cannot be read
   */
  static Path of(PluginJars plugin, PluginDescription description, Path folder) throws IOException {
    String key = Canonical.digest(List.of(
        FORMAT,
        plugin.jars().stream().map(PluginJars.Jar::sha256).toList(),
        description.exportedPackages()));
    Path view = folder.resolve(key).resolve(plugin.id() + ".jar");
    if (!Files.isRegularFile(view)) {
      make(view, classes(plugin, description.exportedPackages()));
    }
    return view;
  }

  private static SortedMap<String, byte[]> classes(PluginJars plugin, List<String> exported)
      throws IOException {
    SortedMap<String, byte[]> classes = new TreeMap<>();
    List<ZipFile> jars = new ArrayList<>();
    try {
      for (PluginJars.Jar jar : plugin.jars()) {
        jars.add(new ZipFile(Path.of(jar.path()).toFile()));
      }
      Deque<String> open = new ArrayDeque<>();
      for (ZipFile jar : jars) {
        jar.stream()
            .map(ZipEntry::getName)
            .filter(name -> name.endsWith(".class") && exported.contains(packageOf(name)))
            .sorted()
            .forEach(open::add);
      }
      while (!open.isEmpty()) {
        String name = open.remove();
        Optional<byte[]> bytes = classes.containsKey(name) ? Optional.empty() : find(jars, name);
        if (bytes.isPresent()) {
          classes.put(name, bytes.get());
          parents(bytes.get()).forEach(parent -> open.add(parent + ".class"));
        }
      }
    } finally {
      for (ZipFile jar : jars) {
        jar.close();
      }
    }
    return classes;
  }

  private static String packageOf(String name) {
    return name.substring(0, Math.max(0, name.lastIndexOf('/'))).replace('/', '.');
  }

  private static Optional<byte[]> find(List<ZipFile> jars, String name) throws IOException {
    for (ZipFile jar : jars) {
      ZipEntry entry = jar.getEntry(name);
      if (entry != null) {
        try (InputStream in = jar.getInputStream(entry)) {
          return Optional.of(in.readAllBytes());
        }
      }
    }
    return Optional.empty();
  }

  private static List<String> parents(byte[] bytes) throws IOException {
    try {
      ClassReader reader = new ClassReader(bytes);
      List<String> parents = new ArrayList<>(List.of(reader.getInterfaces()));
      if (reader.getSuperName() != null) {
        parents.add(reader.getSuperName());
      }
      return parents;
    } catch (IllegalArgumentException | ArrayIndexOutOfBoundsException e) {
      throw new ZipException("a class file in it cannot be read: " + e.getMessage());
    }
  }

  private static void make(Path view, Map<String, byte[]> classes) throws IOException {
    Path folder = view.getParent();
    Path part;
    try {
      Files.createDirectories(folder);
      part = Files.createTempFile(folder, ".view", ".part");
    } catch (IOException e) {
      throw new Fault(
          "the cache folder " + folder + " cannot be written (" + e.getMessage()
              + "). Allow writing there, or set XDG_CACHE_HOME to another folder",
          e);
    }
    try {
      try (OutputStream out = Files.newOutputStream(part);
          ZipOutputStream zip = new ZipOutputStream(out)) {
        for (Map.Entry<String, byte[]> one : classes.entrySet()) {
          ZipEntry entry = new ZipEntry(one.getKey());
          entry.setTimeLocal(TIME);
          zip.putNextEntry(entry);
          zip.write(one.getValue());
        }
      }
      Files.move(part, view, StandardCopyOption.REPLACE_EXISTING);
    } finally {
      Files.deleteIfExists(part);
    }
  }
}
