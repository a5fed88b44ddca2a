package org.slabnote.demo;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;

/**
 * The command line as its user starts it: a process of its own, with a cache folder of the test's, so
 * that exit status, locale, time zone and number of processors are real, and nothing remembered on the
 * machine helps.
 */
final class Slabnote {
  /** Far above what any command here takes: a command that hangs must not hang the build. */
  private static final long MOST_SECONDS = 400;

  private static final Path THIS_JAVA = Path.of(System.getProperty("java.home"));

  private final Path folder;
  private final Path java;
  private final List<String> flags;

  private Slabnote(Path folder, Path java, List<String> flags) {
    this.folder = folder;
    this.java = java;
    this.flags = List.copyOf(flags);
  }

  /**
   * The command line on the Java that runs the test.
   *
   * @param folder where commands run; what they remember goes to {@code cache} in it
   */
  static Slabnote in(Path folder) {
    return new Slabnote(folder, THIS_JAVA, List.of());
  }

  /** The same in another folder, with a cache of its own there. */
  Slabnote moved(Path to) {
    return new Slabnote(to, java, flags);
  }

  /** The same on another Java. */
  Slabnote on(Path javaHome) {
    return new Slabnote(folder, javaHome, flags);
  }

  /** The same with further flags for the JVM. */
  Slabnote with(String... more) {
    List<String> all = new ArrayList<>(flags);
    all.addAll(List.of(more));
    return new Slabnote(folder, java, all);
  }

  /**
   * What a command said.
   *
   * @param status its exit status
   * @param out its output
   * @param err its messages, progress among them
   */
  record Said(int status, String out, String err) {
    /** Its messages without the lines of progress. */
    List<String> messages() {
      return err.lines()
          .filter(line -> !line.matches("reading .*|writing .*|compiling .*|computing.*"))
          .filter(line -> !line.matches("cell [\\w-]+: (stopped|done|runs|waits|computed).*"))
          .toList();
    }
  }

  /** Runs one command to its end. */
  Said run(String... arguments) {
    try {
      Path out = Files.createTempFile(folder, "out", ".txt");
      Path err = Files.createTempFile(folder, "err", ".txt");
      Process process = start(arguments, out, err);
      if (!process.waitFor(MOST_SECONDS, TimeUnit.SECONDS)) {
        process.destroyForcibly();
        throw new AssertionError("slabnote " + String.join(" ", arguments) + " did not end within "
            + MOST_SECONDS + " s; it said: " + Files.readString(err));
      }
      Said said = new Said(process.exitValue(), Files.readString(out), Files.readString(err));
      Files.delete(out);
      Files.delete(err);
      return said;
    } catch (IOException | InterruptedException e) {
      throw new AssertionError("slabnote " + String.join(" ", arguments), e);
    }
  }

  /** Runs one command that must end with status 0, and returns its output. */
  String done(String... arguments) {
    Said said = run(arguments);
    if (said.status() != 0) {
      throw new AssertionError("slabnote " + String.join(" ", arguments) + " ended with status "
          + said.status() + ":\n" + said.err());
    }
    return said.out();
  }

  /** Starts one command and leaves it to the caller; its output and messages go to files. */
  Process start(String[] arguments, Path out, Path err) throws IOException {
    List<String> command = new ArrayList<>();
    command.add(java.resolve("bin").resolve("java").toString());
    // as the launcher of the distribution has them
    command.addAll(List.of(
        "-XX:+IgnoreUnrecognizedVMOptions",
        "-Xshare:auto",
        "-XX:+UseSerialGC",
        "-XX:TieredStopAtLevel=1",
        "--enable-native-access=ALL-UNNAMED",
        "--sun-misc-unsafe-memory-access=allow"));
    command.addAll(flags);
    command.addAll(List.of("-cp", System.getProperty("java.class.path"), "org.slabnote.app.Main"));
    command.addAll(List.of(arguments));
    ProcessBuilder builder = new ProcessBuilder(command)
        .directory(folder.toFile())
        .redirectOutput(out.toFile())
        .redirectError(err.toFile());
    builder.environment().put("XDG_CACHE_HOME", folder.resolve("cache").toString());
    builder.environment().put("LOCALAPPDATA", folder.resolve("cache").toString());
    return builder.start();
  }
}
