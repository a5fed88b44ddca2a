package org.slabnote.engine.run;

import java.nio.file.Path;
import java.util.Collection;
import org.slabnote.engine.problem.BadInput;

/** Computes a prepared job: the worker process, or what stands for it in a test. */
interface Computation {
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

  /** Stops the computation under way; may be called from any thread. */
  void cancel();
}
