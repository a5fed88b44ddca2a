package org.slabnote.api;

import org.slabnote.api.quantity.Angle;

/**
 * How the dipoles lie against the travel direction.
 *
 * @since 0.1
 */
public enum Orientation {
  /** Both dipoles at 90 degrees to the travel: the usual way to push. */
  ACROSS,
  /** Both dipoles along the travel. */
  ALONG,
  /** Transmitter and receiver at 90 degrees to each other. */
  CROSSED,
  /** Anything else. */
  OBLIQUE;

  private static final double TOLERANCE_DEG = 5;

  /**
   * Returns the orientation of two dipole angles, each from the travel direction, modulo 180
   * degrees. Within 5 degrees counts as exact (common practice, no source).
   */
  public static Orientation of(Angle transmitter, Angle receiver) {
    if (near(transmitter, 90) && near(receiver, 90)) {
      return ACROSS;
    }
    if (near(transmitter, 0) && near(receiver, 0)) {
      return ALONG;
    }
    return near(transmitter.minus(receiver), 90) ? CROSSED : OBLIQUE;
  }

  private static boolean near(Angle angle, double deg) {
    double off = angle.minus(new Angle(deg)).modulo180().value();
    return Math.min(off, 180 - off) <= TOLERANCE_DEG;
  }
}
