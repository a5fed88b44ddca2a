package org.slabnote.api;

/**
 * A method of analysis with its inputs and parameters: an immutable record annotated {@link Op}.
 *
 * <p>Components of type {@link Step}, {@link Steps} or {@code Optional<Step>} are inputs; all other
 * components are parameters (quantities, enums, strings, numbers without a unit, lists, nested
 * records) and carry {@link Param}. The engine checks the ranges when the step is made, and calls
 * {@link #apply} with every input computed.
 *
 * <p><b>Must:</b> be a pure function of its components: same inputs, same bytes, whatever the
 * threads, locale, JDK; leave inputs alone; report progress and honour cancel through {@link Work};
 * refuse what it cannot serve with a message that names it. <b>Should:</b> work on one trace and on
 * one sample.
 *
 * @param <R> type of the result: an immutable value that {@link org.slabnote.api.codec.Canonical}
 *     can encode
 * @since 0.1
 */
public interface Operation<R> {
  /**
   * Computes the result.
   *
   * @throws IllegalArgumentException if an input does not serve; the message says which and why
   */
  R apply(Work work);
}
