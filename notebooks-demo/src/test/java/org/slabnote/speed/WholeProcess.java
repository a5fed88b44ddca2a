package org.slabnote.speed;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;

/** The command line as somebody uses it: processes, from their start to their end. */
final class WholeProcess {
  private static final int ROUNDS = 11;

  private final Path launcher;
  private final Path job;
  private final Path cache;

  WholeProcess(Path launcher, Path job, Path cache) {
    this.launcher = launcher;
    this.job = job;
    this.cache = cache;
  }

  void measure(Page page) throws Exception {
    String java = Path.of(System.getProperty("java.home"), "bin", "java").toString();
    String jshell = Path.of(System.getProperty("java.home"), "bin", "jshell").toString();
    double first = Times.millis(this::run);
    run();
    double[] unchanged = new double[ROUNDS];
    double[] empty = new double[ROUNDS];
    double[] shell = new double[ROUNDS];
    for (int i = 0; i < ROUNDS; i++) {
      unchanged[i] = Times.millis(this::run);
      empty[i] = Times.millis(() -> process(List.of(java, "-version"), ""));
      shell[i] = Times.millis(() -> process(List.of(jshell, "-s", "-"), "/exit\n"));
    }
    Times ours = new Times(unchanged);
    page.head(
        "A whole process: `slabnote run` on the demo job",
        "what",
        "time",
        "ratio to the jshell tool");
    Times peer = new Times(shell);
    Times once = new Times(new double[] {first});
    page.row("first run, empty cache", once + ", once", once.ratio(peer));
    page.row("unchanged job: all steps and the tape remembered", ours.toString(), ours.ratio(peer));
    page.row("peer: the JDK's `jshell` tool, started and ended, nothing run", peer.toString(), "1");
    page.row(
        "for scale: `java -version`", new Times(empty).toString(), new Times(empty).ratio(peer));
  }

  private void run() throws IOException, InterruptedException {
    process(List.of(launcher.toString(), "run", job.toString()), "");
  }

  private void process(List<String> command, String input)
      throws IOException, InterruptedException {
    ProcessBuilder builder = new ProcessBuilder(new ArrayList<>(command));
    Map<String, String> environment = builder.environment();
    environment.put("XDG_CACHE_HOME", cache.toString());
    environment.put("JAVA_HOME", System.getProperty("java.home"));
    builder.redirectErrorStream(true);
    builder.redirectOutput(ProcessBuilder.Redirect.DISCARD);
    Process process = builder.start();
    try (var out = process.getOutputStream()) {
      out.write(input.getBytes(java.nio.charset.StandardCharsets.US_ASCII));
    }
    int status = process.waitFor();
    if (status != 0) {
      throw new IllegalStateException(command + " ended with status " + status);
    }
  }
}
