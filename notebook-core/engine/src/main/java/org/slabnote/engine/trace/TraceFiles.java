package org.slabnote.engine.trace;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.Optional;
import org.slabnote.api.codec.Canonical;

/**
 * Traces in the cache folder, by job folder: of the last complete run, and of the one that wrote the
 * record. A damaged or missing one tells less, and harms nothing.
 */
public final class TraceFiles {
  private static final int DIGEST = 32;
  private static final String VERSION = "slabnote trace 1 ";

  private final Path folder;
  private final String job;

  /**
   * Traces of a job.
   *
   * @param cache the cache folder
   * @param job the job folder, absolute
   */
  public TraceFiles(Path cache, Path job) {
    folder = cache.resolve("traces");
    this.job = Canonical.sha256((VERSION + job).getBytes(StandardCharsets.UTF_8));
  }

  /** The trace of the last complete run. */
  public Optional<Trace> last() {
    return read("last");
  }

  /** The trace of the run that gave the record with this digest. */
  public Optional<Trace> recorded(String sha256) {
    return read("recorded")
        .or(this::last)
        .filter(trace -> trace.record().equals(sha256))
        .or(() -> last().filter(trace -> trace.record().equals(sha256)));
  }

  /**
   * Keeps a trace.
   *
   * @param recorded whether its record was written
   */
  public void keep(Trace trace, boolean recorded) {
    byte[] content = Canonical.encode(trace);
    byte[] whole = Arrays.copyOf(digest(content), DIGEST + content.length);
    System.arraycopy(content, 0, whole, DIGEST, content.length);
    write("last", whole);
    if (recorded) {
      write("recorded", whole);
    }
  }

  private Optional<Trace> read(String name) {
    try {
      byte[] bytes = Files.readAllBytes(folder.resolve(job + "." + name));
      byte[] content = Arrays.copyOfRange(bytes, Math.min(DIGEST, bytes.length), bytes.length);
      if (bytes.length < DIGEST || !Arrays.equals(Arrays.copyOf(bytes, DIGEST), digest(content))) {
        return Optional.empty();
      }
      Object value = Canonical.decode(content, TraceFiles.class.getClassLoader());
      return value instanceof Trace trace ? Optional.of(trace) : Optional.empty();
    } catch (IOException | IllegalArgumentException e) {
      return Optional.empty(); // not there, not whole, or of another version: nothing is known
    }
  }

  private void write(String name, byte[] whole) {
    try {
      Files.createDirectories(folder);
      Path part = Files.createTempFile(folder, ".trace", ".part");
      try {
        Files.write(part, whole);
        Files.move(part, folder.resolve(job + "." + name), StandardCopyOption.REPLACE_EXISTING);
      } finally {
        Files.deleteIfExists(part);
      }
    } catch (IOException e) {
      return; // a full or closed cache folder only makes the next answer poorer
    }
  }

  private static byte[] digest(byte[] content) {
    return HexFormat.of().parseHex(Canonical.sha256(content));
  }
}
