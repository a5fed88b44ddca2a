package org.slabnote.speed;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.AtomicLong;
import org.slabnote.engine.run.CellState;
import org.slabnote.engine.run.JobRunner;
import org.slabnote.engine.run.RunListener;

/** From the moment that a run begins to compute to the end of the replay of its first cell. */
final class WorkerStart {
  private static final int ROUNDS = 7;
  private static final long PAUSE_MILLIS = 3000;

  private final Path job;
  private final Path cache;

  WorkerStart(Path job, Path cache) {
    this.job = job;
    this.cache = cache;
  }

  void measure(Page page) throws Exception {
    double[] fresh = new double[ROUNDS];
    double[] ready = new double[ROUNDS];
    double[] empty = new double[ROUNDS];
    String java = Path.of(System.getProperty("java.home"), "bin", "java").toString();
    String text = Files.readString(job.resolve("interpretation.md"));
    JobRunner open = runner();
    for (int i = -3; i < ROUNDS; i++) {
      JobRunner once = runner();
      double cold = toFirstCell(once, text);
      open.makeReady(text);
      Thread.sleep(PAUSE_MILLIS);
      double warm = toFirstCell(open, text);
      double bare = Times.millis(() -> new ProcessBuilder(java, "-version")
          .redirectErrorStream(true)
          .redirectOutput(ProcessBuilder.Redirect.DISCARD)
          .start()
          .waitFor());
      if (i >= 0) {
        fresh[i] = cold;
        ready[i] = warm;
        empty[i] = bare;
      }
    }
    Times peer = new Times(empty);
    page.head(
        "Worker: from its start to the first cell replayed",
        "what",
        "time",
        "ratio to an empty Java process");
    page.row("started for the run", new Times(fresh).toString(), new Times(fresh).ratio(peer));
    page.row(
        "started ahead, in an open job", new Times(ready).toString(), new Times(ready).ratio(peer));
    page.row("peer: `java -version`, from start to end", peer.toString(), "1");
  }

  private JobRunner runner() {
    return JobRunner.of(job, cache.resolve("slabnote"), Runtime.getRuntime().availableProcessors());
  }

  private static double toFirstCell(JobRunner runner, String text) throws Exception {
    AtomicLong start = new AtomicLong();
    AtomicLong second = new AtomicLong();
    AtomicInteger begun = new AtomicInteger();
    runner.compute(text, List.of(), new RunListener() {
      @Override
      public void stage(String stage) {
        start.set(System.nanoTime());
      }

      @Override
      public void cell(String cell, CellState state) {
        // Cells are replayed in order: the second begins when the first is replayed.
        if (state.kind() == CellState.Kind.RUNNING && begun.incrementAndGet() == 2) {
          second.set(System.nanoTime());
        }
      }
    });
    return (second.get() - start.get()) / 1e6;
  }
}
