package org.slabnote.worker.process;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.slabnote.api.codec.Canonical;
import org.slabnote.fake.Peak;
import org.slabnote.worker.Job;
import org.slabnote.worker.RunListener;
import org.slabnote.worker.RunOutcome;
import org.slabnote.worker.RunRequest;
import org.slabnote.worker.TapeMaker;
import org.slabnote.worker.run.InProcessWorker;

class RehearsalTest {
  @TempDir
  Path folder;

  private RunRequest request;

  @BeforeEach
  void makeJob() throws IOException {
    request = new Job(folder)
        .request(new TapeMaker()
            .cell("peaks", 3)
            .let("Steps<Measured<Length>>", "peaks", "scans(ACROSS).each(s -> new Peak(s))")
            .say("show(run(new Total(peaks)));"));
  }

  private RunOutcome run() {
    return new InProcessWorker(getClass().getClassLoader()).run(request, RunListener.NONE);
  }

  private void rehearse() throws InterruptedException {
    try (Rehearsal rehearsal = new Rehearsal(request, getClass().getClassLoader())) {
      rehearsal.join();
    }
  }

  @Test
  void computesNothingWhereAllIsRemembered() throws InterruptedException {
    RunOutcome before = run();
    assertThat(before.failures()).isEmpty();
    int peaks = Peak.RUNS.get();
    rehearse();
    assertThat(Peak.RUNS.get()).isEqualTo(peaks);
    assertThat(Canonical.digest(run())).isEqualTo(Canonical.digest(before));
  }

  @Test
  void endsAtTheFirstStepThatIsNotRemembered() throws InterruptedException {
    int peaks = Peak.RUNS.get();
    rehearse();
    int begun = Peak.RUNS.get() - peaks;
    assertThat(run().failures()).isEmpty();
    assertThat(Peak.RUNS.get() - peaks - begun).as("the run computes them").isEqualTo(2);
  }

  @Test
  void aWorkerThatRehearsedGivesTheSame() {
    try (WorkerProcess worker = new WorkerProcess()) {
      RunOutcome first = worker.run(request, RunListener.NONE);
      assertThat(first.failures()).isEmpty();
      worker.prepare(request.classPath(), request.limits().megabytes(), Optional.of(request));
      assertThat(Canonical.digest(worker.run(request, RunListener.NONE)))
          .isEqualTo(Canonical.digest(first));
    }
  }

  @Test
  void aRunDoesNotWaitForARehearsalThatHangs() throws IOException {
    RunRequest hangs = new Job(folder.resolve("."))
        .request(new TapeMaker().cell("hangs", 3).say("while (true) {}"));
    try (WorkerProcess worker = new WorkerProcess()) {
      worker.prepare(request.classPath(), request.limits().megabytes(), Optional.of(hangs));
      assertThat(worker.run(request, RunListener.NONE).failures()).isEqualTo(List.of());
    }
  }
}
