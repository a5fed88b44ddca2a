package org.slabnote.engine.trace;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.slabnote.api.codec.Canonical;
import org.slabnote.engine.cache.SealedFile;

/**
 * Traces in the cache folder, by job folder: of the last complete run, and of the one that wrote the
 * record. A damaged or missing one tells less, and harms nothing.
 */
public final class TraceFiles {
  private static final String VERSION = "slabnote trace 1 ";

  private final Path last;
  private final Path recorded;

  /**
   * Traces of a job.
   *
   * @param cache the cache folder
   * @param job the job folder, absolute
   */
  public TraceFiles(Path cache, Path job) {
    Path folder = cache.resolve("traces");
    String name = Canonical.sha256((VERSION + job).getBytes(StandardCharsets.UTF_8));
    last = folder.resolve(name + ".last");
    recorded = folder.resolve(name + ".recorded");
  }

  /** The trace of the last complete run. */
  public Optional<Trace> last() {
    return SealedFile.read(last, Trace.class);
  }

  /** The trace of a run that gave the record with this digest. */
  public Optional<Trace> recorded(String sha256) {
    for (Path file : List.of(recorded, last)) {
      Optional<Trace> found =
          SealedFile.read(file, Trace.class).filter(one -> one.record().equals(sha256));
      if (found.isPresent()) {
        return found;
      }
    }
    return Optional.empty();
  }

  /** Keeps the trace of the last complete run. */
  public void keep(Trace trace) {
    SealedFile.write(last, trace);
  }

  /** Notes that the record of the last complete run was written. */
  public void recorded() {
    SealedFile.copy(last, recorded);
  }
}
