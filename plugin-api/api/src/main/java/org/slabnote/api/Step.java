package org.slabnote.api;

/**
 * A handle on the result of one operation, computed when it is demanded.
 *
 * @param <R> type of the result
 * @since 0.1
 */
public interface Step<R> {
  /** Computes the result if need be, waits, and returns it. */
  R get();

  /** States the next step: this step's result through a filter. */
  Step<R> then(Filter<R> filter);

  /** Returns a step whose result is given: for tests. */
  static <R> Step<R> given(R value) {
    return new GivenStep<>(value);
  }
}
