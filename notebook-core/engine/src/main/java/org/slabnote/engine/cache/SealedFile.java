package org.slabnote.engine.cache;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.Optional;
import org.slabnote.api.codec.Canonical;

/**
 * A value in a file of the cache folder, behind its digest: whole, or as good as missing. What stands
 * there is worth having and never needed, so nothing that goes wrong with it stops anything.
 */
public final class SealedFile {
  private static final int DIGEST = 32;

  private SealedFile() {}

  /** Reads a value; empty where it is missing, damaged or of another version. */
  public static <T> Optional<T> read(Path file, Class<T> type) {
    try {
      byte[] bytes = Files.readAllBytes(file);
      byte[] content = Arrays.copyOfRange(bytes, Math.min(DIGEST, bytes.length), bytes.length);
      if (bytes.length < DIGEST || !Arrays.equals(Arrays.copyOf(bytes, DIGEST), digest(content))) {
        return Optional.empty();
      }
      Object value = Canonical.decode(content, SealedFile.class.getClassLoader());
      return type.isInstance(value) ? Optional.of(type.cast(value)) : Optional.empty();
    } catch (IOException | IllegalArgumentException e) {
      return Optional.empty();
    }
  }

  /** Writes a value whole, then moves it into place; what stood there stays where that fails. */
  public static void write(Path file, Object value) {
    byte[] content = Canonical.encode(value);
    byte[] whole = Arrays.copyOf(digest(content), DIGEST + content.length);
    System.arraycopy(content, 0, whole, DIGEST, content.length);
    put(file, whole);
  }

  /** Puts what stands in a file into another too. */
  public static void copy(Path from, Path to) {
    try {
      put(to, Files.readAllBytes(from));
    } catch (IOException e) {
      return; // nothing to copy
    }
  }

  private static void put(Path file, byte[] whole) {
    try {
      Path folder = file.toAbsolutePath().getParent();
      Files.createDirectories(folder);
      Path part = Files.createTempFile(folder, ".sealed", ".part");
      try {
        Files.write(part, whole);
        Files.move(part, file, StandardCopyOption.REPLACE_EXISTING);
      } finally {
        Files.deleteIfExists(part);
      }
    } catch (IOException e) {
      return; // a full or closed cache folder
    }
  }

  private static byte[] digest(byte[] content) {
    return HexFormat.of().parseHex(Canonical.sha256(content));
  }
}
