package org.slabnote.worker;

import java.util.List;

/**
 * Hears of a run while it goes on. Called from one thread at a time, not always the same; must
 * return soon. What it hears depends on time and threads; a {@link RunOutcome} does not.
 *
 * @since 0.1
 */
public interface RunListener {
  /** Hears nothing. */
  RunListener NONE = new RunListener() {};

  /** A cell is in a new state. */
  default void cell(String cell, CellState state) {}

  /**
   * A statement begins, or a step is about to.
   *
   * @param address the step; empty for a statement
   * @param cell cell that states it; empty for a scan that none stated
   * @param line its line in the notebook file; 0 where it has none
   */
  default void at(String address, String cell, int line) {}

  /** These steps are to be computed too: what they need is known. Some may have begun already. */
  default void planned(List<Planned> steps) {}

  /** A step begins to be computed. */
  default void stepStarted(String address, String operation) {}

  /** A step that began told how far it is, 0 to 1. */
  default void stepProgress(String address, double share) {}

  /** A step was computed. */
  default void stepFinished(String address, double seconds) {}

  /** A step was found in the store. */
  default void stepRemembered(String address) {}

  /** So many steps of those known to be needed are there. */
  default void steps(int done, int known) {}

  /** Something failed; the run may go on with what does not depend on it. */
  default void failed(RunOutcome.Failure failure) {}

  /** Something worth telling that stops nothing, one line. */
  default void message(String text) {}

  /** How far a cell is. */
  enum CellState {
    /** Its statements are being replayed. */
    REPLAYING,
    /** Its statements were replayed; steps that were demanded may still be computed. */
    REPLAYED,
    /** All that it demands is there. */
    DONE,
    /** A statement of it, or a step that it stated, failed. */
    FAILED
  }
}
