package org.slabnote.engine.job;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.time.Duration;
import java.time.Instant;
import java.util.HashMap;
import java.util.Map;
import java.util.Objects;
import org.slabnote.api.codec.Canonical;

/**
 * Digests of scan files, not made again while a file stays as it was: same length, same file, and
 * neither content nor attributes changed since, by the file system's own times (POSIX.1-2017, stat:
 * st_mtim, st_ctim). A program may set the first of these back, but not the second; where the system
 * has no second, as on Windows, every file is digested each time.
 *
 * <p>A file changed within {@link #FRESH} of its digest is digested again the next time: a change
 * in the same tick of the file system's clock would leave its times as they are.
 *
 * <p>Kept in memory only, so a new process digests all. Any thread.
 *
 * @since 0.1
 */
public final class ScanDigests {
  private static final Duration FRESH = Duration.ofSeconds(2);

  private record Known(Map<String, Object> stamp, String sha256) {}

  private final Map<Path, Known> known = new HashMap<>();

  /**
   * Returns the SHA-256 of a file, 64 lower-case hexadecimal digits.
   *
   * @throws IOException if it cannot be read
   */
  public synchronized String of(Path file) throws IOException {
    Path path = file.toAbsolutePath().normalize();
    Map<String, Object> stamp = stamp(path);
    Known before = known.get(path);
    if (before != null && before.stamp().equals(stamp)) {
      return before.sha256();
    }
    boolean settled = settled(stamp); // before it is read, which may take longer than that
    String sha256 = Canonical.sha256(Files.readAllBytes(path));
    if (settled && stamp(path).equals(stamp)) {
      known.put(path, new Known(stamp, sha256));
    } else {
      known.remove(path);
    }
    return sha256;
  }

  private static Map<String, Object> stamp(Path path) throws IOException {
    try {
      return Files.readAttributes(path, "unix:dev,ino,size,lastModifiedTime,ctime");
    } catch (UnsupportedOperationException | IllegalArgumentException e) {
      return Map.of(); // not told here: never settled
    }
  }

  private static boolean settled(Map<String, Object> stamp) {
    if (stamp.isEmpty()) {
      return false;
    }
    Instant fresh = Instant.now().minus(FRESH);
    return before(stamp, "lastModifiedTime", fresh) && before(stamp, "ctime", fresh);
  }

  private static boolean before(Map<String, Object> stamp, String name, Instant fresh) {
    return ((FileTime) Objects.requireNonNull(stamp.get(name))).toInstant().isBefore(fresh);
  }
}
