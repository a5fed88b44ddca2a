package org.slabnote.engine.run;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import org.slabnote.engine.problem.Problem;
import org.slabnote.worker.RunOutcome;

/** Passes on what the worker tells, in the words of the engine. */
final class Hearing implements org.slabnote.worker.RunListener {
  private final RunListener listener;
  private final Runnable onNews;
  private final List<String> done = new ArrayList<>();
  private final List<String> remarks = new ArrayList<>();
  private final Set<String> computed = ConcurrentHashMap.newKeySet();

  /**
   * Passes on to a listener.
   *
   * @param onNews called with all news of cells, before they are passed on
   */
  Hearing(RunListener listener, Runnable onNews) {
    this.listener = listener;
    this.onNews = onNews;
  }

  @Override
  public void cell(String cell, CellState state) {
    onNews.run();
    switch (state) {
      case REPLAYING, REPLAYED -> listener.cell(cell, org.slabnote.engine.run.CellState.RUNS);
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

  @Override
  public void stepStarted(String address, String operation) {
    listener.step(address, 0);
  }

  @Override
  public void stepProgress(String address, double share) {
    listener.step(address, share);
  }

  @Override
  public void stepFinished(String address, double seconds) {
    computed.add(address);
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
    listener.steps(done, known);
  }

  @Override
  public void failed(RunOutcome.Failure failure) {
    if (!failure.cell().isEmpty()) {
      listener.cell(failure.cell(), org.slabnote.engine.run.CellState.stopped(failure.message()));
    }
  }
}
