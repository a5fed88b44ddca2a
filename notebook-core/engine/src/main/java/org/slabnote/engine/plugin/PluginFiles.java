package org.slabnote.engine.plugin;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.AtomicMoveNotSupportedException;
import java.nio.file.DirectoryNotEmptyException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.slabnote.api.codec.Canonical;
import org.slabnote.engine.job.PinnedJar;
import org.slabnote.engine.job.PinnedPlugin;
import org.slabnote.engine.job.PluginsLock;
import org.slabnote.engine.problem.Fault;

/** Writes and deletes a job's jars and its lock: each file whole, or as it was. */
final class PluginFiles {
  private final Path job;

  PluginFiles(Path job) {
    this.job = job;
  }

  /**
   * Copies a jar to its place.
   *
   * @return whether it is the one whose digest is given; else nothing was copied
   */
  boolean copy(Path source, PinnedJar jar) {
    Path target = job.resolve(jar.path());
    try {
      byte[] bytes = Files.readAllBytes(source);
      if (!Canonical.sha256(bytes).equals(jar.sha256())) {
        return false;
      }
      if (!Files.exists(target) || !Files.isSameFile(source, target)) {
        writeWhole(target, bytes);
      }
      return true;
    } catch (IOException e) {
      throw unwritten(target, e);
    }
  }

  void write(List<PinnedPlugin> plugins) {
    Path lock = job.resolve(PluginsLock.FILE);
    try {
      if (plugins.isEmpty()) {
        Files.deleteIfExists(lock);
      } else {
        writeWhole(lock, PluginsLock.text(plugins).getBytes(StandardCharsets.UTF_8));
      }
    } catch (IOException e) {
      throw unwritten(lock, e);
    }
  }

  private static void writeWhole(Path target, byte[] bytes) throws IOException {
    Files.createDirectories(target.getParent());
    Path part = target.resolveSibling(target.getFileName() + ".part");
    try {
      Files.write(part, bytes);
      try {
        Files.move(
            part, target, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
      } catch (AtomicMoveNotSupportedException e) {
        Files.move(part, target, StandardCopyOption.REPLACE_EXISTING);
      }
    } finally {
      Files.deleteIfExists(part);
    }
  }

  /** Deletes the jars of a plugin but those that another lock entry keeps. */
  void delete(PinnedPlugin gone, @Nullable PinnedPlugin kept) {
    Set<String> keep = kept == null
        ? Set.of()
        : kept.jars().stream().map(PinnedJar::file).collect(Collectors.toSet());
    try {
      for (PinnedJar jar : gone.jars()) {
        if (!keep.contains(jar.file())) {
          Files.deleteIfExists(job.resolve(jar.path()));
        }
      }
      deleteIfEmpty(job.resolve(PluginsLock.FOLDER).resolve(gone.id()));
      deleteIfEmpty(job.resolve(PluginsLock.FOLDER));
    } catch (IOException e) {
      throw new Fault(
          PluginsLock.FILE + " is written, but a jar of plugin " + gone.id()
              + " cannot be deleted (" + e.getMessage() + "). Delete it by hand",
          e);
    }
  }

  private static void deleteIfEmpty(Path folder) throws IOException {
    try {
      Files.deleteIfExists(folder);
    } catch (DirectoryNotEmptyException e) {
      return;
    }
  }

  private static Fault unwritten(Path target, IOException e) {
    return new Fault(
        target + " cannot be written (" + e.getMessage()
            + "). Make room, or allow writing there; the lock is as it was",
        e);
  }
}
