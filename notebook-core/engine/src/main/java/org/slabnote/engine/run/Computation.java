package org.slabnote.engine.run;

import java.nio.file.Path;
import java.util.Collection;
import java.util.List;
import org.slabnote.engine.problem.BadInput;

/** Computes a prepared job: the worker process, or what stands for it in a test. */
interface Computation extends AutoCloseable {
  /**
   * Replays the cells and computes what they demand.
   *
   * @param job what to compute
   * @param store folder of remembered steps; made where it is missing
   * @param more addresses of steps to compute beyond what the notebook demands
   * @param listener hears of the progress
   * @throws BadInput if a cell, a step or a scan stops the run
   * @throws RunCancelled if {@link #cancel} was called
   */
  Computed compute(Prepared job, Path store, Collection<String> more, RunListener listener)
      throws BadInput;

  /** Says that a computation begins soon: a cancel from now on is for that one. */
  default void begin() {}

  /**
   * Starts ahead what a computation will need, and returns at once.
   *
   * @param classPath the worker's class path
   * @param limits the worker's limits, as far as they are known yet
   */
  default void prepare(List<Path> classPath, Limits limits) {}

  /** Ends what was started ahead. */
  @Override
  default void close() {}

  /** Stops the computation under way; may be called from any thread. */
  void cancel();
}
