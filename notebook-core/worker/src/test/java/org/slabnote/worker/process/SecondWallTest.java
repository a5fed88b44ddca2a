package org.slabnote.worker.process;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assumptions.assumeFalse;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import java.util.function.BooleanSupplier;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.slabnote.worker.Job;
import org.slabnote.worker.RunListener;
import org.slabnote.worker.RunOutcome;
import org.slabnote.worker.TapeMaker;

/** What keeps the worker's process apart, tried with cells that no gate has seen. */
class SecondWallTest {
  private static final long SECONDS = 20;

  @TempDir
  private Path folder;

  /** Runs a cell that ends with a failure of these words. */
  private String said(String code) throws IOException {
    Job job = new Job(Files.createDirectories(folder.resolve("job"))).limits(1, 128, 30);
    RunOutcome outcome = new WorkerProcess()
        .run(job.request(new TapeMaker().cell("odd", 1).say(code)), RunListener.NONE);
    assertThat(outcome.failures()).hasSize(1);
    return outcome.failures().get(0).message();
  }

  private static void await(BooleanSupplier what) throws InterruptedException {
    long end = System.nanoTime() + TimeUnit.SECONDS.toNanos(SECONDS);
    while (!what.getAsBoolean() && System.nanoTime() < end) {
      Thread.sleep(10);
    }
    assertThat(what.getAsBoolean()).isTrue();
  }

  @Test
  void itsEnvironmentHoldsWhatItNeedsAndNothingElse() throws IOException {
    assertThat(System.getenv()).hasSizeGreaterThan(1);
    assertThat(said("throw new IllegalStateException(new TreeMap<>(System.getenv()).toString());"))
        .isEqualTo(Map.of("LC_ALL", "C.UTF-8").toString());
  }

  @Test
  void itsTemporaryFolderIsItsOwnAndGoesWithIt() throws Exception {
    String path = said("String tmp = System.getProperty(\"java.io.tmpdir\");"
        + "java.nio.file.Files.createTempFile(\"left\", \"over\");"
        + "java.nio.file.Files.createDirectories(java.nio.file.Path.of(\"a/b/c\"));"
        + "throw new IllegalStateException(tmp);");
    assertThat(Path.of(path).getFileName().toString())
        .startsWith("slabnote-" + ProcessHandle.current().pid() + "-");
    await(() -> Files.notExists(Path.of(path)));
  }

  @Test
  void itHasNoNetworkWhereTheSystemAllows() throws IOException {
    assumeFalse(Isolation.prefix().isEmpty());
    try (ServerSocket here = new ServerSocket(0, 5, InetAddress.getLoopbackAddress())) {
      String connect = "new java.net.Socket(java.net.InetAddress.getLoopbackAddress(), "
          + here.getLocalPort() + ").close();";
      assertThat(said(connect + "throw new IllegalStateException(\"connected\");"))
          .doesNotContain("connected")
          .containsAnyOf("Exception: Network is unreachable", "ConnectException");
    }
  }

  /** Starts a Java of these tests. */
  private Process host(String mode) throws IOException {
    Path java = Path.of(System.getProperty("java.home"), "bin", "java");
    return new ProcessBuilder(
            java.toString(),
            "-Djava.io.tmpdir=" + Files.createDirectories(folder.resolve("tmp")),
            "-cp",
            System.getProperty("java.class.path"),
            Host.class.getName(),
            mode,
            Files.createDirectories(folder.resolve("hosts-job")).toString())
        .redirectError(ProcessBuilder.Redirect.DISCARD)
        .start();
  }

  private static String firstLine(Process process) throws IOException {
    BufferedReader reader =
        new BufferedReader(new InputStreamReader(process.getInputStream(), StandardCharsets.UTF_8));
    return String.valueOf(reader.readLine());
  }

  @Test
  void itEndsWhenItsHostIsKilled() throws Exception {
    for (String mode : new String[] {"endless", "spare"}) {
      Process host = host(mode);
      long pid = Long.parseLong(firstLine(host));
      ProcessHandle worker = ProcessHandle.of(pid).orElseThrow();
      assertThat(worker.isAlive()).isTrue();
      host.destroyForcibly().waitFor();
      await(() -> !worker.isAlive());
    }
  }

  @Test
  void whatAKilledHostLeftIsSweptAndNothingInUse() throws Exception {
    Path tmp = Files.createDirectories(folder.resolve("tmp"));
    Process gone = host("folder");
    Path left = Path.of(firstLine(gone));
    Process lives = host("folder");
    Path used = Path.of(firstLine(lives));
    try (TemporaryFolder own = TemporaryFolder.make(tmp)) {
      gone.destroyForcibly().waitFor();
      Files.writeString(left.resolve("some.txt"), "left");
      Path other = Files.createDirectories(tmp.resolve("slabnote-notes"));
      Path without = Files.createDirectories(tmp.resolve("slabnote-" + gone.pid() + "-1-x"));
      assertThat(left).exists();
      TemporaryFolder.sweep(tmp);
      assertThat(left).doesNotExist();
      assertThat(used).exists();
      assertThat(own.path()).exists();
      assertThat(other).exists();
      assertThat(without).exists(); // without its lock it may be one just being made
    } finally {
      lives.destroyForcibly();
    }
  }
}
