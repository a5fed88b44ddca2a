package org.slabnote.worker;

/**
 * Runs tapes, one at a time.
 *
 * <p>{@link #run} always returns an outcome: what goes wrong in a cell, a step, a scan file or the
 * worker process stands in {@link RunOutcome#failures}.
 *
 * @since 0.1
 */
public interface WorkerClient {
  /**
   * Runs a tape to its end and returns what it did and found.
   *
   * @param request what to run
   * @param listener hears of progress
   * @throws IllegalStateException if a run is going on already
   */
  RunOutcome run(RunRequest request, RunListener listener);

  /** Stops the run that is going on, if any; its outcome then has a failure of kind cancelled. Any thread. */
  void cancel();
}
