package org.slabnote.worker.process;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.DirectoryIteratorException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** A process of ours that was started, its folder, and the way to speak to it. */
final class ChildProcess implements AutoCloseable {
  private static final long END_SECONDS = 5;
  private static final Pattern SIGNAL = Pattern.compile("SIG[A-Z]+|EXCEPTION_[A-Z_]+");

  private final TemporaryFolder folder;
  private final Process process;
  private final Pipe pipe;
  private final Tail tail;

  private ChildProcess(TemporaryFolder folder, Process process) {
    this.folder = folder;
    this.process = process;
    this.pipe = new Pipe(process.getInputStream(), process.getOutputStream());
    this.tail = new Tail(process.getErrorStream());
  }

  /**
   * Starts a process.
   *
   * @throws IOException if that cannot be done, in words
   */
  static ChildProcess of(Launch launch) throws IOException {
    TemporaryFolder folder;
    try {
      folder = TemporaryFolder.make();
    } catch (IOException e) {
      throw new IOException("no temporary folder can be made: " + e, e);
    }
    try {
      return new ChildProcess(folder, launch.start(folder.path()));
    } catch (IOException e) {
      folder.close();
      throw new IOException("the worker process cannot be started: " + e.getMessage(), e);
    }
  }

  Process process() {
    return process;
  }

  Pipe pipe() {
    return pipe;
  }

  Tail tail() {
    return tail;
  }

  /** Returns what the Java at work noted of its own crash, in one word where it is a signal; empty where it did not crash. */
  Optional<String> crash() {
    try (DirectoryStream<Path> notes = Files.newDirectoryStream(folder.path(), "hs_err*")) {
      for (Path note : notes) {
        byte[] start = new byte[4096];
        try (InputStream in = Files.newInputStream(note)) {
          int read = in.readNBytes(start, 0, start.length);
          Matcher signal = SIGNAL.matcher(new String(start, 0, read, StandardCharsets.ISO_8859_1));
          return Optional.of(signal.find() ? signal.group() : "");
        }
      }
    } catch (IOException | DirectoryIteratorException e) {
      return Optional.empty(); // told without
    }
    return Optional.empty();
  }

  /** Ends the process and takes its folder away, without waiting for either. */
  @Override
  public void close() {
    process.destroyForcibly();
    daemon("worker-away", () -> {
      try {
        process.waitFor(END_SECONDS, TimeUnit.SECONDS); // some systems keep the folder of a process
      } catch (InterruptedException e) {
        Thread.currentThread().interrupt();
      } finally {
        folder.close();
      }
    });
  }

  static Thread daemon(String name, Runnable what) {
    Thread thread = new Thread(what, name);
    thread.setDaemon(true);
    thread.start();
    return thread;
  }
}
