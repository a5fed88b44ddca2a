package org.slabnote.worker.run;

import java.io.File;
import java.io.IOException;
import java.net.URISyntaxException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.CodeSource;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.slabnote.api.codec.Canonical;
import org.slabnote.worker.JarDigest;

/**
 * Digests of what computes a step: the jar (or class folder) that defines the operation, and all
 * libraries on the class path, since a plugin may call any of them; for a third party's operation
 * all jars of its plugin. Other plugins do not count: no plugin sees another.
 */
final class Implementations {
  private static final String SERVICE = "META-INF/services/org.slabnote.api.Plugin";

  private final Map<Path, String> digests = new LinkedHashMap<>();
  private final String libraries;

  Implementations() throws IOException {
    List<String> parts = new ArrayList<>();
    for (String entry : System.getProperty("java.class.path", "").split(File.pathSeparator)) {
      Path path = Path.of(entry);
      if (!entry.isEmpty() && Files.exists(path) && !offersPlugin(path)) {
        parts.add(Files.isDirectory(path) ? folder(path) : JarDigest.ofDirectory(path));
      }
    }
    libraries = Canonical.digest(parts);
  }

  /** Returns where a class comes from. */
  static Path home(Class<?> type) {
    CodeSource source = type.getProtectionDomain().getCodeSource();
    try {
      return Path.of(source.getLocation().toURI());
    } catch (URISyntaxException e) {
      throw new IllegalStateException("place of " + type.getName(), e);
    }
  }

  /** Returns the digest of a class's jar or folder. */
  synchronized String own(Class<?> type) {
    return digests.computeIfAbsent(home(type), path -> {
      try {
        return Files.isDirectory(path) ? folder(path) : Canonical.sha256(Files.readAllBytes(path));
      } catch (IOException e) {
        throw new IllegalStateException(path + " cannot be read", e);
      }
    });
  }

  /** Returns the digest of all that can change what a class computes, but the JDK. */
  String of(Class<?> type) {
    String own =
        type.getClassLoader() instanceof PluginLoader loader ? loader.code().digest() : own(type);
    return Canonical.digest(List.of(own, libraries));
  }

  /** Returns the digest for an operation that a cell declares. */
  String ofCell(String classes) {
    return Canonical.digest(List.of(classes, libraries));
  }

  private static boolean offersPlugin(Path path) throws IOException {
    if (Files.isDirectory(path)) {
      return Files.exists(path.resolve(SERVICE));
    }
    try (java.util.zip.ZipFile jar = new java.util.zip.ZipFile(path.toFile())) {
      return jar.getEntry(SERVICE) != null;
    } catch (java.util.zip.ZipException e) {
      return false; // no jar: nothing loads from it either
    }
  }

  private static String folder(Path folder) throws IOException {
    SortedMap<String, String> files = new TreeMap<>();
    try (Stream<Path> all = Files.walk(folder)) {
      for (Path file : (Iterable<Path>) all.filter(Files::isRegularFile)::iterator) {
        files.put(
            folder.relativize(file).toString().replace(File.separatorChar, '/'),
            Canonical.sha256(Files.readAllBytes(file)));
      }
    }
    return Canonical.digest(files);
  }
}
