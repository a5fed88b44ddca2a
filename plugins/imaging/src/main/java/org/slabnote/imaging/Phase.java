package org.slabnote.imaging;

/**
 * What a stack does to the phase of the pulse.
 *
 * @since 0.1
 */
public enum Phase {
  /**
   * Nothing: the sum along the diffraction curve. Right for kinematic data; on waves spreading in two
   * dimensions its peak lies an eighth of a period off, while its envelope is right.
   */
  AS_RECORDED,
  /** Half-derivative, {@code sqrt(w) exp(-j pi / 4)}: undoes the eighth of a period of a line's echo. */
  HALF_DERIVATIVE
}
