package org.slabnote.engine.record;

import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.AtomicMoveNotSupportedException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.util.List;
import java.util.SortedMap;
import org.slabnote.engine.job.Job;
import org.slabnote.engine.problem.Fault;

/**
 * The record and the digests as bytes, and their way into the job folder: whole, and both or none.
 *
 * @param record bytes of {@code interpretation.record.jsonl}
 * @param digests bytes of {@code interpretation.digests}
 * @since 0.1
 */
@SuppressWarnings("ArrayRecordComponent") // compared by Recheck, line by line
public record RecordFiles(byte[] record, byte[] digests) {

  /**
   * Words the facts of a run.
   *
   * @param fingerprints of each demanded step, by address
   */
  public static RecordFiles of(RunFacts facts, SortedMap<String, Fingerprint> fingerprints) {
    byte[] record = bytes(RecordLines.record(facts));
    return new RecordFiles(record, bytes(RecordLines.digests(fingerprints, record)));
  }

  private static byte[] bytes(List<String> lines) {
    return (String.join("\n", lines) + "\n").getBytes(StandardCharsets.UTF_8);
  }

  /**
   * Writes both files whole, beside their places, then moves them into place: the digests first, so
   * that a record is never beside the digests of another one without their first line telling so.
   *
   * @throws Fault if the folder cannot be written; the files of before then stand unchanged
   */
  public void write(Path folder) {
    Path record = null;
    Path digests = null;
    try {
      record = whole(folder, this.record);
      digests = whole(folder, this.digests);
      move(digests, folder.resolve(Job.DIGESTS));
      move(record, folder.resolve(Job.RECORD));
    } catch (IOException e) {
      throw new Fault(
          "the record cannot be written into " + folder + " (" + e.getClass().getSimpleName()
              + ": " + e.getMessage() + "). The run is remembered: make room or allow writing, and "
              + "run again",
          e);
    } finally {
      remove(record);
      remove(digests);
    }
  }

  private static Path whole(Path folder, byte[] bytes) throws IOException {
    Path path = Files.createTempFile(folder, ".interpretation", ".part");
    try (FileChannel out = FileChannel.open(path, StandardOpenOption.WRITE)) {
      var buffer = java.nio.ByteBuffer.wrap(bytes);
      while (buffer.hasRemaining()) {
        out.write(buffer);
      }
      out.force(true);
    }
    if (Files.getFileStore(path).supportsFileAttributeView("posix")) {
      Files.setPosixFilePermissions(
          path, java.nio.file.attribute.PosixFilePermissions.fromString("rw-r--r--"));
    }
    return path;
  }

  private static void move(Path from, Path to) throws IOException {
    try {
      Files.move(from, to, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
    } catch (AtomicMoveNotSupportedException e) {
      Files.move(from, to, StandardCopyOption.REPLACE_EXISTING);
    }
  }

  private static void remove(@org.jspecify.annotations.Nullable Path path) {
    if (path != null) {
      try {
        Files.deleteIfExists(path);
      } catch (IOException e) {
        throw new Fault(path + " cannot be removed. Remove it by hand", e);
      }
    }
  }
}
