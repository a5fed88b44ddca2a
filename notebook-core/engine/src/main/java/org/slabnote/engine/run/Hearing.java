package org.slabnote.engine.run;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import org.slabnote.engine.problem.Problem;
import org.slabnote.worker.Planned;
import org.slabnote.worker.RunOutcome;

/** Passes on what the worker tells, in the words of the engine. */
final class Hearing implements org.slabnote.worker.RunListener {
  private final RunListener listener;
  private final Runnable onNews;
  private final List<String> done = new ArrayList<>();
  private final List<String> remarks = new ArrayList<>();
  private final Set<String> computed = ConcurrentHashMap.newKeySet();
  private final Estimate estimate;
  private int toReplay;

  /**
   * Passes on to a listener.
   *
   * @param onNews called with all news of cells, before they are passed on
   * @param estimate hears of all steps
   * @param cells how many cells there are to replay
   */
  Hearing(RunListener listener, Runnable onNews, Estimate estimate, int cells) {
    this.listener = listener;
    this.onNews = onNews;
    this.estimate = estimate;
    this.toReplay = cells;
  }

  @Override
  public void cell(String cell, CellState state) {
    onNews.run();
    switch (state) {
      case REPLAYING -> listener.cell(cell, org.slabnote.engine.run.CellState.RUNS);
      case REPLAYED -> {
        if (--toReplay == 0) {
          estimate.complete();
        }
        listener.cell(cell, org.slabnote.engine.run.CellState.RUNS);
      }
      case DONE -> {
        synchronized (done) {
          done.add(cell);
        }
      }
      case FAILED -> {} // told by failed(), with the reason
    }
  }

  /** Tells which cells are done, once it is sure that nothing of the run failed. */
  void tellDone() {
    List<String> told;
    synchronized (done) {
      told = List.copyOf(done);
    }
    told.forEach(cell -> listener.cell(cell, org.slabnote.engine.run.CellState.IS_DONE));
  }

  /** Addresses of the steps that were computed so far. */
  Set<String> computed() {
    return Set.copyOf(computed);
  }

  /** Tells how long it may still take. */
  void tellOutlook() {
    listener.outlook(estimate.now(seconds()));
  }

  private static double seconds() {
    return System.nanoTime() / 1e9;
  }

  @Override
  public void planned(List<Planned> steps) {
    estimate.planned(steps);
  }

  @Override
  public void stepStarted(String address, String operation) {
    estimate.started(address, seconds());
    listener.step(address, 0);
  }

  @Override
  public void stepProgress(String address, double share) {
    estimate.progress(address, share);
    listener.step(address, share);
  }

  @Override
  public void stepFinished(String address, double seconds) {
    computed.add(address);
    estimate.finished(address, seconds);
    listener.step(address, 1);
  }

  @Override
  public void message(String text) {
    synchronized (remarks) {
      remarks.add(text);
    }
  }

  /** What the worker told that stops nothing and somebody should know. */
  List<Problem> remarks() {
    synchronized (remarks) {
      return remarks.stream()
          .map(text -> new Problem(Problem.Kind.RUN, "run", 0, "", text))
          .toList();
    }
  }

  @Override
  public void steps(int done, int known) {
    estimate.counted(done, known);
    listener.steps(done, known);
  }

  @Override
  public void failed(RunOutcome.Failure failure) {
    if (!failure.cell().isEmpty()) {
      listener.cell(failure.cell(), org.slabnote.engine.run.CellState.stopped(failure.message()));
    }
  }
}
