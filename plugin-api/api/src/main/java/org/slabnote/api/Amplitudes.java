package org.slabnote.api;

/**
 * What a filter does to amplitudes. Amplitude methods (pair ratio, reflection) refuse what does
 * not serve them.
 *
 * @since 0.1
 */
public enum Amplitudes {
  /** Samples keep their values: only times or places change. */
  UNCHANGED,
  /** One linear operation, the same for every trace of any scan. */
  SAME_LINEAR,
  /** Linear across traces: comparable only if both antennas were treated alike. */
  ACROSS_TRACES,
  /** Comparable no more: gains, envelopes, anything that depends on the data. */
  ALTERED
}
