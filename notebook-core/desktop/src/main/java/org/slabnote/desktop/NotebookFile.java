package org.slabnote.desktop;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.nio.file.AtomicMoveNotSupportedException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.Arrays;
import org.slabnote.engine.job.Job;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Problem;

/** The notebook on disk: read once, written whole, and watched for another hand. */
final class NotebookFile {
  private final Path job;
  private final Path path;
  private byte[] known = new byte[0];

  NotebookFile(Path job) {
    this.job = job;
    this.path = job.resolve(Job.NOTEBOOK);
  }

  Path job() {
    return job;
  }

  /**
   * Reads the text and remembers it as the one that is known.
   *
   * @throws BadInput if there is no such file or it is no UTF-8
   */
  String read() throws BadInput {
    if (!Files.isRegularFile(path)) {
      throw new BadInput(Problem.inFile(
          job.toString(),
          0,
          "there is no " + Job.NOTEBOOK + " in it; expected a job folder. "
              + "Make one with: slabnote new JOB --survey FILE"));
    }
    try {
      byte[] bytes = Files.readAllBytes(path);
      String text =
          StandardCharsets.UTF_8.newDecoder().decode(ByteBuffer.wrap(bytes)).toString();
      known = bytes;
      return text;
    } catch (CharacterCodingException e) {
      throw new BadInput(Problem.inFile(
          Job.NOTEBOOK,
          0,
          "the file is not text in UTF-8; expected UTF-8. Save it again in UTF-8"));
    } catch (IOException e) {
      throw new BadInput(Problem.inFile(
          Job.NOTEBOOK,
          0,
          "the file cannot be read (" + e.getClass().getSimpleName() + "). "
              + "Check that it is a file and that you may read it"));
    }
  }

  /** Whether the file is another than the one read or written last. */
  boolean changedOnDisk() {
    try {
      return !Files.isRegularFile(path) || !Arrays.equals(Files.readAllBytes(path), known);
    } catch (IOException e) {
      return true;
    }
  }

  /**
   * Writes the whole text beside the file and moves it into place: never half a file.
   *
   * @throws UncheckedIOException if it cannot be written; the old file stays
   */
  void write(String text) {
    byte[] bytes = text.getBytes(StandardCharsets.UTF_8);
    Path beside = null;
    try {
      Path target = Files.exists(path) ? path.toRealPath() : path;
      beside = Files.createTempFile(target.getParent(), ".interpretation", ".tmp");
      Files.write(beside, bytes);
      keepPermissions(target, beside);
      move(beside, target);
      known = bytes;
    } catch (IOException e) {
      remove(beside);
      throw new UncheckedIOException(
          path + " cannot be written; the file there is as it was. "
              + "Check that there is room and that you may write there",
          e);
    }
  }

  private static void keepPermissions(Path from, Path to) throws IOException {
    if (Files.exists(from) && Files.getFileStore(to).supportsFileAttributeView("posix")) {
      Files.setPosixFilePermissions(to, Files.getPosixFilePermissions(from));
    }
  }

  private static void move(Path from, Path to) throws IOException {
    try {
      Files.move(from, to, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
    } catch (AtomicMoveNotSupportedException e) {
      Files.move(from, to, StandardCopyOption.REPLACE_EXISTING);
    }
  }

  private static void remove(@org.jspecify.annotations.Nullable Path file) {
    try {
      if (file != null) {
        Files.deleteIfExists(file);
      }
    } catch (IOException e) {
      file.toFile().deleteOnExit();
    }
  }
}
