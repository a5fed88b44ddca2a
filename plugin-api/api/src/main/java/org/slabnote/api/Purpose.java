package org.slabnote.api;

/**
 * What an operation is for.
 *
 * @since 0.1
 */
public enum Purpose {
  /** Checks of how the scans were taken. */
  ACQUISITION,
  /** Filters of samples. */
  FILTER,
  /** Velocity of the wave. */
  VELOCITY,
  /** Comparison of antenna orientations. */
  POLARIZATION,
  /** Images. */
  IMAGING,
  /** Events, targets, clearances, visibility. */
  TARGETS,
  /** Report tables. */
  TABLE,
  /** Models of slabs and their scans. */
  MODEL
}
