package org.slabnote.worker.process;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.channels.OverlappingFileLockException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.Comparator;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;

/**
 * A folder in the system's temporary folder, gone when it is closed or this process ends.
 *
 * <p>Its name tells the process that made it, and a lock on a file within is held as long as that
 * process lives. What a killed process left behind is taken away when a later one makes its first
 * folder: only where the process is gone and the lock is free.
 *
 * @since 0.1
 */
public final class TemporaryFolder implements AutoCloseable {
  private static final Pattern NAME = Pattern.compile("slabnote-(\\d+)-(\\d+)-\\w+");
  private static final String LOCK = ".in-use";

  private static final Set<TemporaryFolder> OPEN = ConcurrentHashMap.newKeySet();
  private static final AtomicBoolean SWEPT = new AtomicBoolean();

  private final Path path;
  private final FileChannel lock;
  private final AtomicBoolean closed = new AtomicBoolean();

  private TemporaryFolder(Path path, FileChannel lock) {
    this.path = path;
    this.lock = lock;
  }

  /**
   * Makes an empty folder that only this user may enter.
   *
   * @throws IOException if there is no room, or writing is not allowed there
   */
  public static TemporaryFolder make() throws IOException {
    Path system = Path.of(System.getProperty("java.io.tmpdir"));
    if (!SWEPT.getAndSet(true)) {
      Runtime.getRuntime()
          .addShutdownHook(new Thread(() -> OPEN.forEach(TemporaryFolder::close), "tidy"));
      Thread sweeper = new Thread(() -> sweep(system), "sweep");
      sweeper.setDaemon(true);
      sweeper.start();
    }
    return make(system);
  }

  static TemporaryFolder make(Path system) throws IOException {
    ProcessHandle own = ProcessHandle.current();
    Path path =
        Files.createTempDirectory(system, "slabnote-" + own.pid() + "-" + startOf(own) + "-");
    FileChannel lock = FileChannel.open(
        path.resolve(LOCK), StandardOpenOption.CREATE_NEW, StandardOpenOption.WRITE);
    lock.lock(); // freed by the system when this process ends, however it ends
    TemporaryFolder folder = new TemporaryFolder(path, lock);
    OPEN.add(folder);
    return folder;
  }

  /** Returns the folder. */
  public Path path() {
    return path;
  }

  /** Removes it with all that is in it; what cannot be removed now is swept later. */
  @Override
  public void close() {
    if (closed.getAndSet(true)) {
      return;
    }
    OPEN.remove(this);
    try {
      lock.close();
      delete(path);
    } catch (IOException | UncheckedIOException e) {
      return; // a leftover in the temporary folder harms nobody
    }
  }

  private static long startOf(ProcessHandle process) {
    return process.info().startInstant().map(java.time.Instant::toEpochMilli).orElse(0L);
  }

  /** Removes what processes that are gone left behind. */
  static void sweep(Path system) {
    try (DirectoryStream<Path> all = Files.newDirectoryStream(system, "slabnote-*")) {
      for (Path one : all) {
        Matcher name = NAME.matcher(String.valueOf(one.getFileName()));
        if (name.matches()
            && Files.isDirectory(one, LinkOption.NOFOLLOW_LINKS)
            && isGone(name.group(1), name.group(2))
            && isFree(one.resolve(LOCK))) {
          delete(one);
        }
      }
    } catch (IOException | UncheckedIOException | java.nio.file.DirectoryIteratorException e) {
      return; // another process sweeps too, or the folder is another user's
    }
  }

  private static boolean isGone(String pid, String start) {
    try {
      Optional<ProcessHandle> process = ProcessHandle.of(Long.parseLong(pid));
      return process.isEmpty()
          || startOf(process.get()) != Long.parseLong(start) && startOf(process.get()) != 0;
    } catch (NumberFormatException e) {
      return false; // not named by us
    }
  }

  /** A process that cannot be seen from here, in a container say, still holds its lock. */
  private static boolean isFree(Path file) {
    if (!Files.isRegularFile(file, LinkOption.NOFOLLOW_LINKS)) {
      return false; // just being made
    }
    try (FileChannel channel = FileChannel.open(file, StandardOpenOption.WRITE);
        FileLock lock = channel.tryLock()) {
      return lock != null;
    } catch (IOException | OverlappingFileLockException e) {
      return false;
    }
  }

  private static void delete(Path folder) throws IOException {
    try (Stream<Path> all = Files.walk(folder)) {
      for (Path path : all.sorted(Comparator.reverseOrder()).toList()) {
        Files.deleteIfExists(path);
      }
    }
  }
}
