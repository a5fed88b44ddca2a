package org.slabnote.worker.store;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;

/**
 * How much a store may take, in a file beside it, {@code limit}: {@code 4 GB}. One setting for all jobs
 * and processes that use the folder.
 *
 * @since 0.1
 */
public final class StoreLimit {
  /** The limit where none is set: 4 GB. */
  public static final long USUAL = 4_000_000_000L;

  /** The least that may be set, 10 MB: less would not hold one volume. */
  public static final long LEAST = 10_000_000L;

  private StoreLimit() {}

  /** Returns the limit of the store in a folder, bytes; the usual one where none is set or it cannot be read. */
  public static long of(Path folder) {
    try {
      byte[] text = KeyLine.content(file(folder), 40);
      return ByteSize.parse(new String(text, StandardCharsets.UTF_8))
          .filter(bytes -> bytes >= LEAST)
          .orElse(USUAL);
    } catch (IOException e) {
      return USUAL;
    }
  }

  /**
   * Sets the limit.
   *
   * @param folder folder of the store; made where it is missing
   * @param bytes at least {@link #LEAST}
   * @throws IOException if it cannot be written
   */
  public static void set(Path folder, long bytes) throws IOException {
    if (bytes < LEAST) {
      throw new IllegalArgumentException("limit of the store: " + ByteSize.words(bytes)
          + "; expected at least " + ByteSize.words(LEAST));
    }
    Files.createDirectories(folder);
    Path part = Files.createTempFile(folder, "limit", ".part");
    try {
      Files.writeString(part, bytes + " B\n");
      Files.move(
          part, file(folder), StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
    } finally {
      Files.deleteIfExists(part);
    }
  }

  private static Path file(Path folder) {
    return folder.resolve("limit");
  }
}
