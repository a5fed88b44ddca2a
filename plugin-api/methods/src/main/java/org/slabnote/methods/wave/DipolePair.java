package org.slabnote.methods.wave;

/**
 * Two-dimensional antenna pair without a cylinder: the direct wave and a plane reflector.
 *
 * <p>Same sources, scale and order of values as {@link CylinderScattering#pair}: {@code {across real,
 * across imaginary, along real, along imaginary}}. With D the path, s the separation, z the depth and
 * H_n = H_n^(2)(k D): direct across H_0, along H_1 / (k D) with D = s; perfect plane across -H_0, along
 * {@code H_0'' (2 z / D)^2 + H_0' / (k D) (s / D)^2}. So the ratio of the two is not 0 dB on a plane near
 * by: it tends there as the depth grows.
 *
 * <p>Source: derived from the line source's field; check: DipolePairTest (limits by hand, and a very
 * thick metal cylinder by the series).
 *
 * @since 0.1
 */
public final class DipolePair {

  private DipolePair() {}

  /**
   * Direct wave in a uniform medium.
   *
   * @param waveNumber k, rad/m, above 0
   * @param separation transmitter to receiver, m, above 0
   * @return four numbers
   * @throws IllegalArgumentException if an argument is outside its range
   */
  public static double[] direct(double waveNumber, double separation) {
    double kd = waveNumber * separation;
    Bessel b = Bessel.of(1, kd);
    return new double[] {b.j(0), -b.y(0), b.j(1) / kd, -b.y(1) / kd};
  }

  /**
   * Echo of a perfectly reflecting plane parallel to the surface.
   *
   * <p>For a dielectric boundary at near normal incidence, multiply by minus its reflection coefficient.
   *
   * @param waveNumber k, rad/m, above 0
   * @param separation transmitter to receiver, m, 0 or more
   * @param depth depth of the plane below the antennas, m, above 0
   * @return four numbers
   * @throws IllegalArgumentException if an argument is outside its range
   */
  public static double[] plane(double waveNumber, double separation, double depth) {
    if (!(separation >= 0 && depth > 0)) {
      throw new IllegalArgumentException("antenna pair over a plane: separation = " + separation
          + " m, depth = " + depth + " m; expected 0 or more, above 0");
    }
    double way = Math.sqrt(4 * depth * depth + separation * separation);
    double kd = waveNumber * way;
    Bessel b = Bessel.of(1, kd);
    double upright = 2 * depth / way;
    double flat = separation / way;
    double[] out = new double[4];
    out[0] = -b.j(0);
    out[1] = b.y(0);
    // H0' = -H1, H0'' = H1 / (kD) - H0
    double flatPart = -flat * flat / kd;
    double uprightPart = upright * upright / kd;
    double plain = -upright * upright;
    out[2] = plain * b.j(0) + (uprightPart + flatPart) * b.j(1);
    out[3] = -(plain * b.y(0) + (uprightPart + flatPart) * b.y(1));
    return out;
  }
}
