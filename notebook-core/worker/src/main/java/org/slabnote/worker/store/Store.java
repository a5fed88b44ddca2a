package org.slabnote.worker.store;

import java.io.IOException;
import java.nio.file.FileSystemException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.FileTime;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicLong;
import org.slabnote.api.codec.Canonical;

/**
 * Remembered values in a folder, which several processes may use at once: some write, some read, one
 * trims.
 *
 * <p>{@code steps-1/keys/ab/...} holds for each key the digest of its value and the digest of key
 * and value digest together; {@code steps-1/values/ab/...} holds the bytes under their digest. The
 * number is that of the format: another format has another folder. A file is written whole under a
 * name of its own in {@code steps-1/parts} and then moved into place, so a name that is there is whole;
 * yet everything is verified on reading, and what does not verify is deleted and counts as not there.
 * So nothing has to be forced to the disk: what a loss of power empties is computed again.
 *
 * <p>A file's time of modification is that of its last use, to five minutes. {@link #tidy} and {@link
 * #trim} delete what was used longest ago; what was used within the last quarter of an hour stays.
 *
 * <p>Several threads may use one store.
 *
 * @since 0.1
 */
public final class Store {
  private static final String STEPS = "steps-1";

  /** The time of use is told to this much: a store that is read is hardly written. */
  private static final long TOUCH = TimeUnit.MINUTES.toMillis(5);

  private static final int ATTEMPTS = 3;
  private static final long UNIT = 1_000_000;

  private final Path folder;
  private final Shelves shelves;
  private final AtomicLong written = new AtomicLong();

  private Store(Path folder, String format) {
    this.folder = folder;
    shelves = new Shelves(folder.resolve(format));
  }

  /** Returns the store of steps in a folder; nothing is made before something is written. */
  public static Store at(Path folder) {
    return of(folder, STEPS);
  }

  /**
   * Returns a store of something else than steps, kept and verified the same way.
   *
   * @param format name of its folder within {@code folder}, with the number of the format
   */
  public static Store of(Path folder, String format) {
    return new Store(folder, format);
  }

  /** Returns the folder that the store is in. */
  public Path folder() {
    return folder;
  }

  /** Returns whether a value seems to be there: its bytes are verified only when they are read. Counts as use. */
  public boolean has(String key) {
    Optional<String> digest = digestOf(key);
    if (digest.isEmpty()) {
      return false;
    }
    Path value = Shelves.place(shelves.values, digest.get());
    return Files.isRegularFile(value, LinkOption.NOFOLLOW_LINKS) && used(value);
  }

  /** Returns the digest of the value remembered for a key. */
  public Optional<String> digestOf(String key) {
    Optional<String> digest = KeyLine.read(shelves, key);
    digest.ifPresent(there -> used(Shelves.place(shelves.keys, key)));
    return digest;
  }

  /** Returns the bytes of a digest, verified; nothing where they are not there or damaged. */
  public Optional<byte[]> bytes(String digest) {
    Path file = Shelves.place(shelves.values, digest);
    try {
      byte[] bytes = KeyLine.content(file, Integer.MAX_VALUE - 9);
      if (Canonical.sha256(bytes).equals(digest)) {
        used(file);
        return Optional.of(bytes);
      }
      Shelves.delete(file);
      return Optional.empty();
    } catch (IOException e) {
      return Optional.empty(); // not there, or not to be read: compute
    }
  }

  /** Notes the use of a file where the note before it is old, or from a clock that was ahead. */
  private static boolean used(Path file) {
    try {
      long now = System.currentTimeMillis();
      long before = Files.getLastModifiedTime(file, LinkOption.NOFOLLOW_LINKS).toMillis();
      if (Math.abs(now - before) > TOUCH) {
        Files.setLastModifiedTime(file, FileTime.fromMillis(now));
      }
      return true;
    } catch (NoSuchFileException e) {
      return false;
    } catch (IOException e) {
      return true; // a folder that may only be read serves for reading
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
    Path value = Shelves.place(shelves.values, digest);
    if (!sized(value, bytes.length) || !used(value)) {
      write(value, bytes);
    }
    if (!KeyLine.read(shelves, key).equals(Optional.of(digest))) {
      write(Shelves.place(shelves.keys, key), KeyLine.of(key, digest));
    }
  }

  private static boolean sized(Path file, long size) {
    try {
      return Files.isRegularFile(file, LinkOption.NOFOLLOW_LINKS) && Files.size(file) == size;
    } catch (IOException e) {
      return false;
    }
  }

  private void write(Path target, byte[] bytes) throws IOException {
    for (int attempt = 1; ; attempt++) {
      try {
        writeOnce(target, bytes);
        written.addAndGet(bytes.length);
        return;
      } catch (NoSuchFileException e) {
        // Another process cleared the folder, or took the part for one of a killed process.
        if (attempt == ATTEMPTS) {
          throw e;
        }
      }
    }
  }

  private void writeOnce(Path target, byte[] bytes) throws IOException {
    Files.createDirectories(target.getParent());
    Files.createDirectories(shelves.parts);
    Path part = Files.createTempFile(shelves.parts, "value", ".part");
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
    } catch (NoSuchFileException e) {
      throw e;
    } catch (FileSystemException e) {
      // Another process may hold or have just made the same content: then it is there.
      if (!sized(target, size)) {
        throw e;
      }
    }
  }

  /** Returns how many bytes were written through this object since it was made or {@link #tidy} was called. */
  public long written() {
    return written.get();
  }

  /**
   * Keeps the store within its limit, {@link StoreLimit}: call it after writing. The folder is gone
   * through only when all processes together wrote a sixteenth of the limit since it last was; then
   * what was used longest ago is deleted until seven eighths of the limit are left.
   *
   * @throws IOException if the folder cannot be read or written
   */
  public void tidy() throws IOException {
    tidy(StoreLimit.of(folder));
  }

  /** The same with a limit in bytes that is not the folder's. */
  public void tidy(long limit) throws IOException {
    long units = (written.getAndSet(0) + UNIT - 1) / UNIT;
    if (units == 0) {
      return;
    }
    // A byte for each megabyte: several processes may add to a file at once.
    Path tally = shelves.root.resolve("untidied");
    Files.write(
        tally,
        new byte[(int) Math.min(units, 1 << 20)],
        StandardOpenOption.CREATE,
        StandardOpenOption.APPEND,
        LinkOption.NOFOLLOW_LINKS);
    if (size(tally) > limit / UNIT / 16) {
      new Trim(shelves).to(limit, limit - limit / 8);
      Files.deleteIfExists(tally);
    } else {
      new Trim(shelves).deadParts();
    }
  }

  private static long size(Path tally) throws IOException {
    try {
      return Files.size(tally);
    } catch (NoSuchFileException e) {
      return 0; // another process has just tidied
    }
  }

  /**
   * Deletes what was used longest ago until at most {@code most} bytes are left, and parts that a killed
   * process left behind. What was used within the last quarter of an hour stays, since another process
   * may be at it. What is deleted is computed again when it is needed.
   *
   * @throws IOException if the folder cannot be read
   */
  public void trim(long most) throws IOException {
    new Trim(shelves).to(most, most);
  }

  /** Returns what the store holds. */
  public StoreFacts facts() throws IOException {
    return new Inventory(shelves).facts();
  }

  /** Reads everything and deletes what does not verify or leads nowhere. Counts as no use. */
  public StoreCheck verify() throws IOException {
    return new Inventory(shelves).verify();
  }

  /**
   * Deletes all values and keys. A run that is going on computes again what it misses.
   *
   * @return what there was
   */
  public StoreFacts clear() throws IOException {
    return new Inventory(shelves).clear();
  }
}
