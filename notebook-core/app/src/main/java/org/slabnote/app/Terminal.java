package org.slabnote.app;

import java.io.BufferedOutputStream;
import java.io.BufferedReader;
import java.io.FileDescriptor;
import java.io.FileInputStream;
import java.io.FileOutputStream;
import java.io.FilterOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.OutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;

/**
 * Where a command writes: results to {@link #out}, messages and progress to {@link #err}, in UTF-8
 * whatever the locale.
 */
final class Terminal {
  private static final int USUAL_WIDTH = 80;

  private final Watched outWatch;
  private final PrintStream out;
  private final PrintStream err;
  private final boolean progress;
  private final boolean bold;
  private final int width;
  private final Optional<BufferedReader> in;

  /**
   * Makes one on which nobody can be asked.
   *
   * @param out takes results
   * @param err takes messages
   * @param outTerminal whether {@code out} is a terminal
   * @param errTerminal whether {@code err} is a terminal
   * @param environment environment variables: {@code NO_COLOR, TERM, COLUMNS}
   */
  Terminal(
      OutputStream out,
      OutputStream err,
      boolean outTerminal,
      boolean errTerminal,
      Map<String, String> environment) {
    this(Optional.empty(), out, err, outTerminal, errTerminal, environment);
  }

  /**
   * Makes one.
   *
   * @param in where answers come from; empty where nobody can be asked
   */
  Terminal(
      Optional<InputStream> in,
      OutputStream out,
      OutputStream err,
      boolean outTerminal,
      boolean errTerminal,
      Map<String, String> environment) {
    this.in =
        in.map(stream -> new BufferedReader(new InputStreamReader(stream, StandardCharsets.UTF_8)));
    boolean dumb = environment.getOrDefault("TERM", "").equals("dumb");
    this.outWatch = new Watched(out);
    this.out =
        new PrintStream(new BufferedOutputStream(outWatch, 8192), false, StandardCharsets.UTF_8);
    this.err = new PrintStream(err, true, StandardCharsets.UTF_8);
    this.progress = errTerminal && !dumb;
    this.bold = outTerminal && !dumb && environment.getOrDefault("NO_COLOR", "").isEmpty();
    this.width = width(environment.getOrDefault("COLUMNS", ""));
  }

  /**
   * The terminal of this process. The launcher says in the property {@code slabnote.terminal} which of
   * 0 (input), 1 (output) and 2 (error) are terminals; without it the system's console decides for
   * all.
   */
  static Terminal ofProcess() {
    String told = System.getProperty("slabnote.terminal");
    boolean both = told == null && System.console() != null;
    boolean asked = both || told != null && told.contains("0") && told.contains("2");
    return new Terminal(
        asked ? Optional.of(new FileInputStream(FileDescriptor.in)) : Optional.empty(),
        new FileOutputStream(FileDescriptor.out),
        new FileOutputStream(FileDescriptor.err),
        both || told != null && told.contains("1"),
        both || told != null && told.contains("2"),
        System.getenv());
  }

  private static int width(String columns) {
    if (columns.matches("\\d{2,4}")) {
      return Math.max(40, Math.min(200, Integer.parseInt(columns)));
    }
    return USUAL_WIDTH;
  }

  /** Whether somebody is there to answer {@link #ask}. */
  boolean canAsk() {
    return in.isPresent();
  }

  /**
   * Asks somebody.
   *
   * @return whether the answer is y or yes; no answer is none
   */
  boolean ask(String question) {
    err.print(question + " [y/N] ");
    err.flush();
    try {
      String answer = in.isPresent() ? in.get().readLine() : null;
      return answer != null && answer.strip().toLowerCase(Locale.ROOT).matches("y|yes");
    } catch (IOException e) {
      return false;
    }
  }

  PrintStream out() {
    return out;
  }

  PrintStream err() {
    return err;
  }

  /** Whether progress may rewrite its line. */
  boolean progress() {
    return progress;
  }

  /** Whether headings on the output may be bold. */
  boolean bold() {
    return bold;
  }

  int width() {
    return width;
  }

  /** The heading as it is printed. */
  String heading(String text) {
    return bold ? "\u001b[1m" + text + "\u001b[0m" : text;
  }

  /**
   * Writes out what is left.
   *
   * @return what went wrong with the output; nothing when all was written, or the reader of a pipe
   *     had enough
   */
  Optional<String> finish() {
    out.flush();
    err.flush();
    return outWatch.problem();
  }

  /** Remembers why writing stopped: a {@code PrintStream} forgets it. */
  private static final class Watched extends FilterOutputStream {
    private Optional<String> problem = Optional.empty();

    Watched(OutputStream out) {
      super(out);
    }

    @Override
    public void write(byte[] bytes, int from, int count) throws IOException {
      try {
        out.write(bytes, from, count);
      } catch (IOException e) {
        String message = String.valueOf(e.getMessage());
        boolean pipe = message.contains("pipe") || message.contains("Pipe");
        if (!pipe && problem.isEmpty()) {
          problem = Optional.of(message);
        }
        throw e;
      }
    }

    Optional<String> problem() {
      return problem;
    }
  }
}
