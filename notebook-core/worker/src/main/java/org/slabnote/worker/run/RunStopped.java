package org.slabnote.worker.run;

/**
 * Thrown through the cells when the run cannot go on: something failed that is noted already, or the
 * run was cancelled. An error, so that no handler in a cell meets it.
 */
final class RunStopped extends Error {
  private static final long serialVersionUID = 1L;

  RunStopped() {
    super("the run stops", null, false, false);
  }
}
