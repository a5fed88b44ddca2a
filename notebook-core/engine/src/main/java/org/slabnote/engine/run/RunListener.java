package org.slabnote.engine.run;

import java.util.List;
import org.slabnote.engine.trace.OutOfDate;

/**
 * Hears of a run's progress, on a thread of the run; must return soon.
 *
 * @since 0.1
 */
public interface RunListener {
  /** Hears nothing. */
  RunListener NONE = new RunListener() {};

  /**
   * The run goes on to another stage.
   *
   * @param words what it does now: {@code reading the scans}, {@code compiling the cells}
   */
  default void stage(String words) {}

  /** A cell is in another state. */
  default void cell(String cell, CellState state) {}

  /**
   * A step goes on.
   *
   * @param address the step
   * @param share of it that is done, 0 to 1
   */
  default void step(String address, double share) {}

  /**
   * How many of the steps that are known to be needed are done.
   *
   * @param done steps done or remembered
   * @param known steps known so far
   */
  default void steps(int done, int known) {}

  /**
   * How far the run is and how long it may still take; a few times a second while steps are computed,
   * and on another thread than the rest.
   */
  default void outlook(Outlook outlook) {}

  /**
   * The run was complete, and this is why it computed what it did not remember.
   *
   * @param cells by cell, in order; a cell all of whose steps were remembered is not told
   */
  default void why(List<OutOfDate.Stale> cells) {}
}
