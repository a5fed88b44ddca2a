package org.slabnote.targets;

import org.slabnote.methods.path.TravelTime;

/**
 * The time curve of a diffraction.
 *
 * @param apex distance of the apex along the pass, m
 * @param cover depth to the top, m, above 0
 * @param flattening sine of the crossing angle: the apparent velocity is v / flattening. Above 1 it
 *     stands for a velocity assumed too high
 * @param radius radius of the cylinder, m
 * @param separation transmitter to receiver, m
 * @param velocity wave velocity, m/ns
 */
record Curve(
    double apex,
    double cover,
    double flattening,
    double radius,
    double separation,
    double velocity) {

  /** Two-way time from the surface with the antennas' midpoint at a distance along the pass, ns. */
  double time(double distance) {
    return time(distance - apex, cover, flattening, radius, separation, velocity);
  }

  /** The same by the quick form, for searches. */
  double quickTime(double distance) {
    return quickTime(distance - apex, cover, flattening, radius, separation, velocity);
  }

  double apexTime() {
    return TravelTime.plane(cover, separation, velocity);
  }

  static double time(double x, double h, double q, double a, double s, double v) {
    // as TravelTime's crossing form, without its trigonometry: this is called a million times
    double in = TravelTime.cylinderLength(x * q, h, a, s * Math.min(1, q));
    double out = s * s * Math.max(0, 1 - q * q);
    return Math.sqrt(in * in + out) / v;
  }

  /**
   * Quick form for searches: the legs to the axis less two radii, at most 2 mm of path too long at
   * covers from 25 mm up, and exact at the apex for a point.
   */
  static double quickTime(double x, double h, double q, double a, double s, double v) {
    double off = x * q;
    double half = Math.min(1, q) * s / 2;
    double z = h + a;
    double in = Math.sqrt((off - half) * (off - half) + z * z)
        + Math.sqrt((off + half) * (off + half) + z * z)
        - 2 * a;
    double out = s * s * Math.max(0, 1 - q * q);
    return Math.sqrt(in * in + out) / v;
  }

  /** Half the length of pass along which the curve is summed, m (common practice, no source). */
  static double aperture(double cover, double flattening) {
    return Math.max(0.06, Math.min(0.30, 1.1 * (cover + 0.03) / flattening));
  }

  double aperture() {
    return aperture(cover, flattening);
  }
}
