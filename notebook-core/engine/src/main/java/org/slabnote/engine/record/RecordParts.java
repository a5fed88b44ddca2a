package org.slabnote.engine.record;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.file.DirectoryIteratorException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.slabnote.api.codec.Canonical;

/**
 * Files on their way into a job folder: {@code .interpretation-PID-CHANCE.part}, written whole and forced
 * to the disk, then moved. One that is left tells of a run that was killed while it wrote.
 */
final class RecordParts {
  private static final Pattern NAME = Pattern.compile("\\.interpretation-(\\d{1,18})-\\d+\\.part");
  private static final long DEAD_MILLIS = TimeUnit.HOURS.toMillis(1);

  private RecordParts() {}

  /** Writes bytes into a new part and forces them to the disk: a name that is moved must not be empty. */
  static Path whole(Path folder, byte[] bytes) throws IOException {
    long process = ProcessHandle.current().pid();
    Path path = Files.createTempFile(folder, ".interpretation-" + process + "-", ".part");
    try (FileChannel out = FileChannel.open(path, StandardOpenOption.WRITE)) {
      ByteBuffer buffer = ByteBuffer.wrap(bytes);
      while (buffer.hasRemaining()) {
        out.write(buffer);
      }
      out.force(true);
    } catch (IOException e) {
      Files.deleteIfExists(path);
      throw e;
    }
    if (Files.getFileStore(path).supportsFileAttributeView("posix")) {
      Files.setPosixFilePermissions(path, PosixFilePermissions.fromString("rw-r--r--"));
    }
    return path;
  }

  /** Forces the names in a folder to the disk, where the system opens folders at all. */
  static void force(Path folder) {
    try (FileChannel names = FileChannel.open(folder, StandardOpenOption.READ)) {
      names.force(true);
    } catch (IOException e) {
      return; // as on Windows: there a move is kept by the file system's own journal
    }
  }

  /** Deletes the parts of processes that are gone. */
  static void removeDead(Path folder) throws IOException {
    for (Path part : parts(folder)) {
      Matcher name = NAME.matcher(part.getFileName().toString());
      boolean alive =
          name.matches() && ProcessHandle.of(Long.parseLong(name.group(1))).isPresent();
      if (!alive || isOld(part)) {
        Files.deleteIfExists(part);
      }
    }
  }

  /** A part is there for less than a second; another process may have got the number since. */
  private static boolean isOld(Path part) throws IOException {
    try {
      long written = Files.getLastModifiedTime(part, LinkOption.NOFOLLOW_LINKS).toMillis();
      return System.currentTimeMillis() - written > DEAD_MILLIS;
    } catch (NoSuchFileException e) {
      return false; // its process was faster
    }
  }

  /** Returns whether a run left a part with this digest: it was ended before it could move it. */
  static boolean holds(Path folder, String sha256) {
    try {
      for (Path part : parts(folder)) {
        if (Canonical.sha256(Files.readAllBytes(part)).equals(sha256)) {
          return true;
        }
      }
      return false;
    } catch (IOException e) {
      return false; // not to be read, or gone meanwhile
    }
  }

  private static List<Path> parts(Path folder) throws IOException {
    List<Path> parts = new ArrayList<>();
    try (DirectoryStream<Path> all = Files.newDirectoryStream(folder, ".interpretation-*.part")) {
      for (Path part : all) {
        if (NAME.matcher(part.getFileName().toString()).matches()
            && Files.isRegularFile(part, LinkOption.NOFOLLOW_LINKS)) {
          parts.add(part);
        }
      }
    } catch (DirectoryIteratorException e) {
      throw e.getCause();
    }
    return parts;
  }
}
