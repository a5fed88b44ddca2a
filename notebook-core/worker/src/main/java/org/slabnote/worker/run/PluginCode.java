package org.slabnote.worker.run;

import java.io.IOException;
import java.io.InputStream;
import java.net.MalformedURLException;
import java.net.URL;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.security.CodeSource;
import java.security.cert.Certificate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import java.util.zip.ZipEntry;
import java.util.zip.ZipFile;
import org.slabnote.api.codec.Canonical;
import org.slabnote.worker.PluginJars;

/**
 * The jars of a third party's plugin, verified and open; several loaders may read from them.
 *
 * <p>A jar's {@code Class-Path} leads nowhere: only what is pinned is used. Classes for newer Javas
 * within a jar ({@code META-INF/versions}) are not used either: the same classes on every Java.
 */
final class PluginCode implements AutoCloseable {
  private static final String OURS = "org/slabnote/";

  private final PluginJars plugin;
  private final List<Part> parts = new ArrayList<>();

  private record Part(ZipFile zip, CodeSource source, String url) {}

  /** Bytes of an entry, and the jar they come from. */
  record Found(byte[] bytes, CodeSource source) {}

  private PluginCode(PluginJars plugin) {
    this.plugin = plugin;
  }

  /**
   * Opens the jars.
   *
   * @throws IllegalArgumentException if one is not there, changed, or no jar; the message says which
   *     and what to do
   */
  static PluginCode open(PluginJars plugin) {
    PluginCode code = new PluginCode(plugin);
    try {
      for (PluginJars.Jar jar : plugin.jars()) {
        code.open(jar);
      }
      return code;
    } catch (IOException | RuntimeException e) {
      code.close();
      throw e instanceof IllegalArgumentException unfit
          ? unfit
          : new IllegalArgumentException(String.valueOf(e.getMessage()), e);
    }
  }

  private void open(PluginJars.Jar jar) throws IOException {
    Path path = Path.of(jar.path());
    ZipFile zip;
    try {
      zip = new ZipFile(path.toFile()); // open first: what is verified is what stays open
    } catch (NoSuchFileException e) {
      throw new IllegalArgumentException(jar.name() + " is not there", e);
    } catch (IOException e) {
      throw new IllegalArgumentException(
          jar.name() + " is no jar that can be read (" + e.getMessage() + ")", e);
    }
    String url = path.toUri().toString();
    parts.add(new Part(zip, new CodeSource(location(url), (Certificate[]) null), url));
    String now = Canonical.sha256(Files.readAllBytes(path));
    if (!now.equals(jar.sha256())) {
      throw new IllegalArgumentException(
          jar.name() + " changed: pinned is SHA-256 " + jar.sha256() + ", it has " + now);
    }
    Optional<? extends ZipEntry> ours = zip.stream()
        .filter(entry -> entry.getName().startsWith(OURS)
            && entry.getName().endsWith(".class")
            && !PluginLoader.isShared(entry.getName().replace('/', '.')))
        .findFirst();
    if (ours.isPresent()) {
      throw new IllegalArgumentException(
          "it holds " + ours.get().getName() + "; the packages org.slabnote are Slabnote's own");
    }
  }

  private static URL location(String url) throws MalformedURLException {
    return new URL(url);
  }

  PluginJars plugin() {
    return plugin;
  }

  /** Returns the digest of all its jars, in order. */
  String digest() {
    return Canonical.digest(plugin.jars().stream().map(PluginJars.Jar::sha256).toList());
  }

  /** Returns the bytes of an entry, from the first jar that has it. */
  Optional<Found> find(String entry) throws IOException {
    for (Part part : parts) {
      ZipEntry found = part.zip().getEntry(entry);
      if (found != null) {
        try (InputStream in = part.zip().getInputStream(found)) {
          return Optional.of(new Found(in.readAllBytes(), part.source()));
        }
      }
    }
    return Optional.empty();
  }

  /** Returns the names of all entries. */
  Stream<String> entries() {
    return parts.stream().flatMap(part -> part.zip().stream()).map(ZipEntry::getName);
  }

  /** Returns where an entry can be read, in each jar that has it. */
  List<URL> places(String entry) {
    List<URL> places = new ArrayList<>();
    for (Part part : parts) {
      if (part.zip().getEntry(entry) != null) {
        try {
          places.add(location("jar:" + part.url() + "!/" + entry));
        } catch (MalformedURLException e) {
          throw new IllegalArgumentException(entry + " cannot be named as a resource", e);
        }
      }
    }
    return places;
  }

  @Override
  public void close() {
    for (Part part : parts) {
      try {
        part.zip().close();
      } catch (IOException e) {
        continue; // nothing was written
      }
    }
  }
}
