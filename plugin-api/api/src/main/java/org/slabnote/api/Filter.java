package org.slabnote.api;

import java.util.Set;

/**
 * An operation from a value to a value of the same type, which can be chained: {@code
 * scans(ACROSS).then(new Dewow(ns(1.0)))}. A record annotated {@link Op}; all components are
 * parameters. What {@link Operation} must, a filter must.
 *
 * <p>The engine adds the filter to a scan's history; {@link #apply} does not.
 *
 * @param <V> type of value
 * @since 0.1
 */
public interface Filter<V> {
  /** Computes the filtered value. */
  V apply(V input, Work work);

  /** Returns what the filter does to amplitudes. */
  Amplitudes amplitudes();

  /** Returns the physics the filter claims; the testkit holds it to each. */
  default Set<Claim> claims() {
    return Set.of();
  }

  /**
   * What a filter may claim.
   *
   * @since 0.1
   */
  enum Claim {
    /** A symmetric pulse stays where it is. */
    ZERO_DELAY,
    /** The filtered sum is the sum of the filtered. */
    LINEAR,
    /** Twice the input gives twice the output. */
    SCALE_FREE,
    /** The sign of a pulse survives. */
    KEEPS_POLARITY,
    /** A trace's result depends on that trace only. */
    TRACE_BY_TRACE
  }
}
