package org.slabnote.worker.process;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.slabnote.api.codec.Canonical;
import org.slabnote.worker.Job;
import org.slabnote.worker.RunListener;
import org.slabnote.worker.RunOutcome;
import org.slabnote.worker.TapeMaker;

class SpareTest {
  @TempDir
  private Path folder;

  private final Spare spare = new Spare(600_000);

  @AfterEach
  void end() {
    spare.close();
  }

  private static Launch launch(int megabytes, Path... more) {
    List<String> path = new java.util.ArrayList<>(
        List.of(System.getProperty("java.class.path").split(java.io.File.pathSeparator)));
    for (Path one : more) {
      path.add(one.toString());
    }
    return new Launch(Path.of(System.getProperty("java.home")), path, megabytes, Main.class);
  }

  private static boolean ends(ChildProcess process) throws InterruptedException {
    return process.process().waitFor(20, TimeUnit.SECONDS);
  }

  @Test
  void handsOverWhatFitsOnce() {
    spare.prepare(launch(128), Optional.empty());
    spare.prepare(launch(128), Optional.empty());
    try (ChildProcess one = spare.take(launch(128)).orElseThrow()) {
      assertThat(one.process().isAlive()).isTrue();
      assertThat(spare.take(launch(128))).isEmpty();
    }
  }

  @Test
  void endsWhatDoesNotFit() throws Exception {
    spare.prepare(launch(128), Optional.empty());
    ChildProcess one = spare.take(launch(128)).orElseThrow();
    one.close();
    assertThat(ends(one)).isTrue();
    spare.prepare(launch(128), Optional.empty());
    assertThat(spare.take(launch(192))).isEmpty();
    assertThat(spare.take(launch(128))).isEmpty();
  }

  /** A jar that was replaced must not run under the digest of the new one. */
  @Test
  void doesNotHandOverWhatStartedBeforeAJarWasReplaced() throws IOException {
    Path jar = Files.write(folder.resolve("some.jar"), new byte[10]);
    spare.prepare(launch(128, jar), Optional.empty());
    Files.write(jar, new byte[20]);
    assertThat(spare.take(launch(128, jar))).isEmpty();
  }

  @Test
  void endsWhatNobodyAsksFor() throws Exception {
    try (Spare impatient = new Spare(300)) {
      impatient.prepare(launch(128), Optional.empty());
      Thread.sleep(3000);
      assertThat(impatient.take(launch(128))).isEmpty();
    }
  }

  @Test
  void aRunInAProcessStartedAheadGivesTheSame() throws IOException {
    Job job = new Job(folder).limits(2, 128, 30);
    TapeMaker cells = new TapeMaker()
        .cell("first", 1)
        .let("Steps<Scan>", "across", "scans(ACROSS).then(new Scaled(new Ratio(2)))")
        .say("show(across.of(\"E02\"));");
    try (WorkerProcess ahead = new WorkerProcess()) {
      ahead.prepare(job.request(cells).classPath(), 128, Optional.empty());
      RunOutcome outcome = ahead.run(job.request(cells), RunListener.NONE);
      assertThat(outcome.failures()).isEmpty();
      Optional<RunOutcome> plain =
          Optional.of(new WorkerProcess().run(job.request(cells), RunListener.NONE));
      assertThat(Canonical.digest(outcome)).isEqualTo(Canonical.digest(plain.orElseThrow()));
      ahead.cancel(); // nothing runs
      ahead.prepare(job.request(cells).classPath(), 128, Optional.empty());
      RunOutcome again = ahead.run(job.request(cells), RunListener.NONE);
      assertThat(again.failures()).isEmpty();
    }
  }
}
