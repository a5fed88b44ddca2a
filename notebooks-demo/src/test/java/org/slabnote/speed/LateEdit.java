package org.slabnote.speed;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.atomic.AtomicLong;
import jdk.jshell.JShell;
import org.slabnote.engine.run.CellState;
import org.slabnote.engine.run.JobRunner;
import org.slabnote.engine.run.RunListener;

/** An edit of the last cell while the job is open: from the edited text to the outcome. */
final class LateEdit {
  private static final int WARM_UP = 5;
  private static final int ROUNDS = 11;
  private static final long PAUSE_MILLIS = 4000;

  private final Path job;
  private final Path cache;

  LateEdit(Path job, Path cache) {
    this.job = job;
    this.cache = cache;
  }

  void measure(Page page) throws Exception {
    String text = Files.readString(job.resolve("interpretation.md"));
    int end = text.lastIndexOf("\n```");
    double[] whole = new double[ROUNDS];
    double[] compiling = new double[ROUNDS];
    double[] computing = new double[ROUNDS];
    double[] before = new double[ROUNDS];
    double[] peer = new double[ROUNDS];
    JobRunner runner =
        JobRunner.of(job, cache.resolve("slabnote"), Runtime.getRuntime().availableProcessors());
    try (JShell shell = JShell.create()) {
      runner.compute(text, List.of(), RunListener.NONE);
      runner.makeReady(text);
      for (int i = -WARM_UP; i < ROUNDS; i++) {
        Thread.sleep(PAUSE_MILLIS); // an analyst types no faster
        String statement = "var edit = " + (i + WARM_UP) + ";";
        String edited = text.substring(0, end) + "\n" + statement + text.substring(end);
        AtomicLong compiled = new AtomicLong();
        AtomicLong begun = new AtomicLong();
        AtomicLong reached = new AtomicLong();
        long start = System.nanoTime();
        runner.compute(edited, List.of(), new RunListener() {
          @Override
          public void stage(String stage) {
            (stage.startsWith("compiling") ? begun : compiled).set(System.nanoTime());
          }

          @Override
          public void cell(String cell, CellState state) {
            if (state.kind() == CellState.Kind.RUNNING) {
              reached.set(System.nanoTime()); // in the end that of the last cell
            }
          }
        });
        long over = System.nanoTime();
        runner.makeReady(edited);
        double stock = Times.millis(() -> shell.eval(statement));
        if (i >= 0) {
          before[i] = (reached.get() - start) / 1e6;
          whole[i] = (over - start) / 1e6;
          compiling[i] = (compiled.get() - begun.get()) / 1e6;
          computing[i] = (over - compiled.get()) / 1e6;
          peer[i] = stock;
        }
      }
    }
    page.head(
        "An edit of the last cell, the job being open",
        "what",
        "time",
        "ratio to JShell as it comes");
    Times stock = new Times(peer);
    row(
        page,
        "one statement put in: edited text to the replay of its cell, when a step of it could begin",
        before,
        stock);
    row(page, "edited text to outcome, no step to compute", whole, stock);
    row(page, "of it: compiling the cell, the gate", compiling, stock);
    row(
        page,
        "of it: replay of the whole tape in a fresh worker, its outcome, the record",
        computing,
        stock);
    page.row(
        "peer: `JShell.create().eval` of the same statement, in a shell that holds nothing else",
        stock.toString(),
        "1");
  }

  private static void row(Page page, String what, double[] millis, Times peer) {
    Times times = new Times(millis);
    page.row(what, times.toString(), times.ratio(peer));
  }
}
