package org.slabnote.engine.problem;

/**
 * Something went wrong that no change of the job can put right: a fault of ours or of the machine.
 *
 * @since 0.1
 */
public final class Fault extends RuntimeException {
  private static final long serialVersionUID = 1L;

  /** States what went wrong and what can be done. */
  public Fault(String message) {
    super(message);
  }

  /** States what went wrong, with its cause. */
  public Fault(String message, Throwable cause) {
    super(message, cause);
  }
}
