package org.slabnote.api;

/**
 * Thrown out of an operation when the run was cancelled; never caught by it.
 *
 * @since 0.1
 */
public final class CancelledException extends RuntimeException {
  private static final long serialVersionUID = 1L;

  /** Makes the exception. */
  public CancelledException() {
    super("cancelled");
  }
}
