package org.slabnote.engine.record;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.AtomicMoveNotSupportedException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
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
   * Writes both files whole, beside their places, then moves them into place: the digests first, whose
   * first line holds the digest of the record. A run that is killed between the two moves leaves new
   * digests beside the record of before, and the new record as a part: {@link RecordReader} tells, and
   * the next run writes both. Parts of killed runs are removed.
   *
   * @throws Fault if the folder cannot be written; the files of before then stand unchanged
   */
  public void write(Path folder) {
    List<Path> parts = new ArrayList<>();
    try {
      RecordParts.removeDead(folder);
      Path newRecord = part(parts, folder, record);
      Path newDigests = part(parts, folder, digests);
      Path toDigests = folder.resolve(Job.DIGESTS);
      Optional<Path> before = Files.isRegularFile(toDigests)
          ? Optional.of(part(parts, folder, Files.readAllBytes(toDigests)))
          : Optional.empty();
      move(newDigests, toDigests);
      try {
        move(newRecord, folder.resolve(Job.RECORD));
      } catch (IOException e) {
        putBack(before, toDigests, e);
        throw e;
      }
      RecordParts.force(folder);
    } catch (IOException e) {
      throw new Fault(
          "the record cannot be written into " + folder + " (" + e.getClass().getSimpleName()
              + ": " + e.getMessage() + "). The run is remembered: make room or allow writing, and "
              + "run again",
          e);
    } finally {
      parts.forEach(RecordFiles::remove);
    }
  }

  private static Path part(List<Path> parts, Path folder, byte[] bytes) throws IOException {
    Path part = RecordParts.whole(folder, bytes);
    parts.add(part);
    return part;
  }

  private static void putBack(Optional<Path> before, Path digests, IOException why) {
    try {
      if (before.isPresent()) {
        move(before.get(), digests);
      } else {
        Files.deleteIfExists(digests);
      }
    } catch (IOException e) {
      why.addSuppressed(e); // told when the record is read: the two do not belong together
    }
  }

  private static void move(Path from, Path to) throws IOException {
    try {
      Files.move(from, to, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
    } catch (AtomicMoveNotSupportedException e) {
      Files.move(from, to, StandardCopyOption.REPLACE_EXISTING);
    }
  }

  private static void remove(Path path) {
    try {
      Files.deleteIfExists(path);
    } catch (IOException e) {
      return; // the next run removes it
    }
  }
}
