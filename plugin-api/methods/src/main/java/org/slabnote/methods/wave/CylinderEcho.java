package org.slabnote.methods.wave;

/**
 * Spectrum of a cylinder's echo at a set of frequencies, for both antenna orientations and any number
 * of antenna places.
 *
 * <p>The scattering coefficients are computed once for each frequency; {@link #at} then costs a few
 * microseconds a frequency. For a slab with loss, multiply by {@code exp(-alpha L)} with L the path.
 * Immutable; may be shared among threads.
 *
 * @since 0.1
 */
public final class CylinderEcho {
  private final CylinderScattering[] scatterings;
  private final double[] frequencies;
  private final double radius;

  private CylinderEcho(CylinderScattering[] scatterings, double[] frequencies, double radius) {
    this.scatterings = scatterings;
    this.frequencies = frequencies;
    this.radius = radius;
  }

  /**
   * Prepares a target in a host.
   *
   * @param target cylinder
   * @param epsHost permittivity of the host, 1 to 100
   * @param frequencies GHz, each above 0
   * @return the echo
   * @throws IllegalArgumentException if a frequency or permittivity is outside its range
   */
  public static CylinderEcho of(CylinderTarget target, double epsHost, double... frequencies) {
    CylinderScattering[] scatterings = new CylinderScattering[frequencies.length];
    for (int i = 0; i < scatterings.length; i++) {
      scatterings[i] = CylinderScattering.of(target, epsHost, frequencies[i]);
    }
    return new CylinderEcho(scatterings, frequencies.clone(), target.radius());
  }

  /**
   * Field received in both orientations for equal source strength.
   *
   * <p>Per frequency {@code -w G} with G of {@link CylinderScattering#pair}, w in rad/ns: the received
   * field of a source strength I(w) is this times I(w) and the constant mu / 4.
   *
   * @param separation transmitter to receiver, m, 0 or more
   * @param cover depth of the cylinder's top below the antennas, m, above 0
   * @param offset midpoint of the antennas less the axis, square to it, m, any sign
   * @return spectra
   * @throws IllegalArgumentException if an argument is outside its range
   */
  public PairSpectrum at(double separation, double cover, double offset) {
    PairSpectrum spectrum = new PairSpectrum(frequencies);
    for (int i = 0; i < frequencies.length; i++) {
      spectrum.set(i, scatterings[i].pair(separation, cover, offset));
    }
    return spectrum;
  }

  /**
   * The frequencies.
   *
   * @return new array, GHz
   */
  public double[] frequencies() {
    return frequencies.clone();
  }

  /**
   * Outside radius of the cylinder.
   *
   * @return radius, m
   */
  public double radius() {
    return radius;
  }
}
