package org.slabnote.worker.store;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.DirectoryStream;
import java.nio.file.FileSystemException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.Optional;
import java.util.regex.Pattern;
import org.slabnote.api.codec.Canonical;

/**
 * Remembered values in a folder, which several processes may use at once.
 *
 * <p>{@code steps-1/keys/ab/...} holds for each key the digest of its value and the digest of key
 * and value digest together; {@code steps-1/values/ab/...} holds the bytes under their digest. The
 * number is that of the format: another format has another folder. A file is written whole under a
 * name of its own and then moved into place, so a name that is there is whole; yet everything is
 * verified on reading, and what does not verify is deleted and counts as not there.
 *
 * <p>Several threads may use one store.
 *
 * @since 0.1
 */
public final class Store {
  private static final String FORMAT = "steps-1";
  private static final Pattern DIGEST = Pattern.compile("[0-9a-f]{64}");

  private final Path keys;
  private final Path values;
  private final Path parts;

  private Store(Path folder) {
    keys = folder.resolve("keys");
    values = folder.resolve("values");
    parts = folder.resolve("parts");
  }

  /** Returns the store in a folder; nothing is made before something is written. */
  public static Store at(Path folder) {
    return new Store(folder.resolve(FORMAT));
  }

  /** Returns whether a value seems to be there: its bytes are verified only when they are read. */
  public boolean has(String key) {
    Optional<String> digest = digestOf(key);
    return digest.isPresent() && Files.isRegularFile(place(values, digest.get()));
  }

  /** Returns the digest of the value remembered for a key. */
  public Optional<String> digestOf(String key) {
    Path file = place(keys, key);
    try {
      String line = Files.readString(file, StandardCharsets.ISO_8859_1);
      if (line.length() == 129 && line.charAt(64) == ' ') {
        String digest = line.substring(0, 64);
        if (line.substring(65).equals(seal(key, digest))) {
          return Optional.of(digest);
        }
      }
      Files.deleteIfExists(file);
      return Optional.empty();
    } catch (IOException e) {
      return Optional.empty(); // not there, or not to be read: compute
    }
  }

  /** Returns the bytes of a digest, verified; nothing where they are not there or damaged. */
  public Optional<byte[]> bytes(String digest) {
    Path file = place(values, digest);
    try {
      byte[] bytes = Files.readAllBytes(file);
      if (Canonical.sha256(bytes).equals(digest)) {
        return Optional.of(bytes);
      }
      Files.deleteIfExists(file);
      return Optional.empty();
    } catch (IOException e) {
      return Optional.empty();
    }
  }

  /**
   * Remembers a value under its key.
   *
   * @param key key of the step, 64 hexadecimal digits
   * @param digest SHA-256 of {@code bytes}
   * @param bytes canonical encoding of the value
   * @throws IOException if it cannot be written; what was there before still is
   */
  public void put(String key, String digest, byte[] bytes) throws IOException {
    Path value = place(values, digest);
    if (!sized(value, bytes.length)) {
      write(value, bytes);
    }
    write(
        place(keys, key), (digest + " " + seal(key, digest)).getBytes(StandardCharsets.ISO_8859_1));
  }

  private static boolean sized(Path file, long size) {
    try {
      return Files.size(file) == size;
    } catch (IOException e) {
      return false;
    }
  }

  private void write(Path target, byte[] bytes) throws IOException {
    Files.createDirectories(target.getParent());
    Files.createDirectories(parts);
    Path part = Files.createTempFile(parts, "value", ".part");
    try {
      Files.write(part, bytes);
      move(part, target, bytes.length);
    } finally {
      Files.deleteIfExists(part);
    }
  }

  private static void move(Path part, Path target, long size) throws IOException {
    try {
      Files.move(part, target, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
    } catch (FileSystemException e) {
      // Another process may hold or have just made the same content: then it is there.
      if (!sized(target, size)) {
        throw e;
      }
    }
  }

  private static String seal(String key, String digest) {
    return Canonical.sha256((key + digest).getBytes(StandardCharsets.ISO_8859_1));
  }

  private static Path place(Path folder, String digest) {
    if (!DIGEST.matcher(digest).matches()) {
      throw new IllegalArgumentException(
          "name in the store: " + digest + "; expected 64 lower-case hexadecimal digits");
    }
    return folder.resolve(digest.substring(0, 2)).resolve(digest.substring(2));
  }

  /**
   * Deletes the values that were written longest ago until at most {@code most} bytes are left, and
   * parts that a killed process left behind. What is deleted is computed again when it is needed.
   *
   * @throws IOException if the folder cannot be read
   */
  public void trim(long most) throws IOException {
    new Trim(values, parts).to(most);
  }

  /** Returns the bytes that the values take. */
  public long size() throws IOException {
    long sum = 0;
    if (Files.isDirectory(values)) {
      try (DirectoryStream<Path> folders = Files.newDirectoryStream(values)) {
        for (Path folder : folders) {
          sum += sizeOf(folder);
        }
      }
    }
    return sum;
  }

  private static long sizeOf(Path folder) throws IOException {
    long sum = 0;
    try (DirectoryStream<Path> files = Files.newDirectoryStream(folder)) {
      for (Path file : files) {
        try {
          sum += Files.size(file);
        } catch (NoSuchFileException e) {
          continue; // another process trimmed it
        }
      }
    }
    return sum;
  }
}
