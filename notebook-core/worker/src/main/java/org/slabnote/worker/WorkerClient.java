package org.slabnote.worker;

import java.util.List;
import java.util.Optional;

/**
 * Runs tapes, one at a time.
 *
 * <p>{@link #run} always returns an outcome: what goes wrong in a cell, a step, a scan file or the
 * worker process stands in {@link RunOutcome#failures}.
 *
 * @since 0.1
 */
public interface WorkerClient extends AutoCloseable {
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

  /**
   * Says that a run with this class path and memory is to come, for a client that can prepare for it.
   * Returns at once.
   *
   * @param classPath as {@link RunRequest#classPath} will have it
   * @param megabytes as {@link RunRequest.Limits#megabytes} will have it
   * @param like a run like the one to come, such as the last one of the same job, whose steps are all
   *     remembered: a client may go through it to be warm; nothing is heard of it
   */
  default void prepare(List<String> classPath, int megabytes, Optional<RunRequest> like) {}

  /** Ends what was prepared. A run that is going on goes on. */
  @Override
  default void close() {}
}
