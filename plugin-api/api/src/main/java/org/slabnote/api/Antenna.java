package org.slabnote.api;

import org.slabnote.api.quantity.Angle;
import org.slabnote.api.quantity.Frequency;
import org.slabnote.api.quantity.Length;
import org.slabnote.api.quantity.Units;

/**
 * The pair of antennas behind one channel.
 *
 * @param transmitter dipole angle from the travel direction, positive from x towards y
 * @param receiver the same for the receiving dipole
 * @param separation distance between the feed points, zero or more
 * @param centre nominal centre frequency, above zero
 * @since 0.1
 */
public record Antenna(Angle transmitter, Angle receiver, Length separation, Frequency centre) {

  /**
   * Checks the ranges.
   *
   * @throws IllegalArgumentException if the separation is negative or the frequency not positive
   */
  public Antenna {
    if (separation.value() < 0 || separation.value() > 5) {
      throw new IllegalArgumentException(
          "antenna separation = " + Units.plain(separation.value(), 6) + " m; expected 0 m to 5 m");
    }
    if (centre.value() <= 0) {
      throw new IllegalArgumentException(
          "centre frequency = " + centre + "; expected more than 0 MHz");
    }
  }

  /** Returns how the dipoles lie against the travel. */
  public Orientation orientation() {
    return Orientation.of(transmitter, receiver);
  }
}
