package org.slabnote.methods.wave;

/**
 * Direction of the electric field against the axis of a cylinder.
 *
 * @since 0.1
 */
public enum Polarization {
  /** Electric field along the axis: what the across antenna does to a bar that its pass crosses. */
  TM,
  /** Electric field across the axis, magnetic field along it: the along antenna. */
  TE
}
