package org.slabnote.engine.run;

/**
 * The run was cancelled; nothing was written, what was computed is remembered.
 *
 * @since 0.1
 */
public final class RunCancelled extends RuntimeException {
  private static final long serialVersionUID = 1L;

  /** States that the run was cancelled. */
  public RunCancelled() {
    super("the run was cancelled; nothing was written, and what was computed is remembered");
  }
}
