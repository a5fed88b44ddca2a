package org.slabnote.engine.run;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.concurrent.ConcurrentHashMap;
import java.util.stream.Stream;
import org.slabnote.api.codec.Canonical;
import org.slabnote.engine.job.Job;
import org.slabnote.engine.job.PinnedJar;
import org.slabnote.engine.job.PinnedPlugin;
import org.slabnote.engine.trace.Marks;
import org.slabnote.engine.trace.PluginMark;
import org.slabnote.worker.JarDigest;

/**
 * Marks of what computes, as it lies on disk now. A file of the same size and time counts as the same
 * within one process.
 */
final class ClassPathMarks {
  private static final Map<Path, Digest> KNOWN = new ConcurrentHashMap<>();

  private record Digest(String stamp, String sha256) {}

  private ClassPathMarks() {}

  static Marks of(Toolbox toolbox, Job job) {
    SortedMap<String, PluginMark> plugins = new TreeMap<>();
    Set<Path> homes = new HashSet<>();
    toolbox.homes().forEach((id, home) -> {
      homes.add(home.toAbsolutePath().normalize());
      plugins.put(id, new PluginMark(Toolbox.ownVersion(), digest(home)));
    });
    for (PinnedPlugin one : job.plugins().present()) {
      List<String> jars = one.jars().stream().map(PinnedJar::sha256).toList();
      plugins.put(one.id(), new PluginMark(one.own().version(), Canonical.digest(jars)));
    }
    List<String> libraries = new ArrayList<>();
    for (Path path : toolbox.classPath()) {
      if (!homes.contains(path.toAbsolutePath().normalize())) {
        libraries.add(digest(path));
      }
    }
    return new Marks(plugins, Canonical.digest(libraries));
  }

  private static String digest(Path path) {
    try {
      if (Files.isDirectory(path)) {
        return folder(path);
      }
      if (!Files.exists(path)) {
        return "none";
      }
      String stamp = Files.size(path) + " " + Files.getLastModifiedTime(path);
      Digest known = KNOWN.get(path);
      if (known == null || !known.stamp().equals(stamp)) {
        known = new Digest(stamp, content(path));
        KNOWN.put(path, known);
      }
      return known.sha256();
    } catch (IOException | UncheckedIOException e) {
      return "unreadable";
    }
  }

  private static String content(Path path) throws IOException {
    return path.toString().endsWith(".jar")
        ? JarDigest.ofDirectory(path)
        : Canonical.sha256(Files.readAllBytes(path));
  }

  private static String folder(Path folder) throws IOException {
    StringBuilder all = new StringBuilder();
    try (Stream<Path> files = Files.walk(folder)) {
      for (Path file : files.filter(Files::isRegularFile).sorted().toList()) {
        all.append(folder.relativize(file)).append(' ').append(digest(file)).append('\n');
      }
    }
    return Canonical.sha256(all.toString().getBytes(StandardCharsets.UTF_8));
  }
}
