package org.slabnote.engine.run;

import org.slabnote.worker.RunOutcome;

/** Passes on what the worker tells, in the words of the engine. */
final class Hearing implements org.slabnote.worker.RunListener {
  private final RunListener listener;
  private final Runnable onNews;

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
      case DONE -> listener.cell(cell, org.slabnote.engine.run.CellState.IS_DONE);
      case FAILED -> {} // told by failed(), with the reason
    }
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
    listener.step(address, 1);
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
