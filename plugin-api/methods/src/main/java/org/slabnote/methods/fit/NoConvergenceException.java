package org.slabnote.methods.fit;

/**
 * An iteration ended without an answer; there is no result to use.
 *
 * <p>The message names the fit, what was reached, what was expected and what to try.
 *
 * @since 0.1
 */
public class NoConvergenceException extends RuntimeException {
  private static final long serialVersionUID = 1L;

  /**
   * Makes the exception.
   *
   * @param message where: what, with the value; expected what; what to do
   */
  public NoConvergenceException(String message) {
    super(message);
  }
}
