package org.slabnote.polarization;

/**
 * The two orientations on one trace, within a gate: field along the target's axis and across it.
 *
 * <p>With S_along = S_par cos^2 + S_perp sin^2 and S_across = S_par sin^2 + S_perp cos^2 of the
 * angle between pass and target, S_par and S_perp follow from complex amplitudes of one time, and
 * each one's envelope is then peaked by itself.
 *
 * @param parallel greatest envelope with the field along the axis
 * @param perpendicular greatest envelope with the field across it
 * @param parallelTime time of the first, ns from the surface
 * @param perpendicularTime time of the second
 * @param phase phase of the second less the first, each at its peak, radians, -pi to pi
 */
record Comparison(
    double parallel,
    double perpendicular,
    double parallelTime,
    double perpendicularTime,
    double phase) {

  /**
   * Compares.
   *
   * @param sine sine of the crossing angle, above 0.8
   * @param gain factor on the along amplitudes
   */
  static Comparison at(
      Echoes across, int i, Echoes along, int k, double from, double to, double sine, double gain) {
    double square = sine * sine;
    double difference = 2 * square - 1;
    int low = Math.max(0, (int) Math.ceil(across.sample(from)));
    int high = Math.min(across.samples - 1, (int) Math.floor(across.sample(to)));
    int n = Math.max(0, high - low + 1);
    double[][] par = new double[n][];
    double[][] perp = new double[n][];
    double shift = along.sample(across.time(0));
    for (int j = 0; j < n; j++) {
      double[] b = interpolated(along, k, low + j + shift);
      double ar = across.real(i, low + j);
      double ai = across.imaginary(i, low + j);
      double br = b[0] * gain;
      double bi = b[1] * gain;
      par[j] = new double[] {
        (ar * square - br * (1 - square)) / difference,
        (ai * square - bi * (1 - square)) / difference
      };
      perp[j] = new double[] {
        (br * square - ar * (1 - square)) / difference,
        (bi * square - ai * (1 - square)) / difference
      };
    }
    double[] p = peak(par);
    double[] q = peak(perp);
    return new Comparison(
        p[0],
        q[0],
        across.time(low + p[1]),
        across.time(low + q[1]),
        Math.IEEEremainder(q[2] - p[2], 2 * Math.PI));
  }

  /** Between two samples, the phase turning evenly. */
  private static double[] interpolated(Echoes e, int trace, double sample) {
    int j = (int) Math.floor(sample);
    if (j < 0 || j + 1 >= e.samples) {
      return new double[] {0, 0};
    }
    double f = sample - j;
    if (f < 1e-9) {
      return new double[] {e.real(trace, j), e.imaginary(trace, j)};
    }
    double[] p = polar(e.real(trace, j), e.imaginary(trace, j));
    double[] q = polar(e.real(trace, j + 1), e.imaginary(trace, j + 1));
    double size = p[0] + f * (q[0] - p[0]);
    double phase = p[1] + f * Math.IEEEremainder(q[1] - p[1], 2 * Math.PI);
    return new double[] {size * StrictMath.cos(phase), size * StrictMath.sin(phase)};
  }

  private static double[] polar(double re, double im) {
    return new double[] {Math.sqrt(re * re + im * im), StrictMath.atan2(im, re)};
  }

  /** Height, place and phase of the greatest inner peak; height 0 where there is none. */
  private static double[] peak(double[][] z) {
    double most = 0;
    int at = -1;
    double[] size = new double[z.length];
    for (int j = 0; j < z.length; j++) {
      size[j] = Math.sqrt(z[j][0] * z[j][0] + z[j][1] * z[j][1]);
    }
    for (int j = 1; j + 1 < z.length; j++) {
      if (size[j] > most && size[j] >= size[j - 1] && size[j] >= size[j + 1]) {
        most = size[j];
        at = j;
      }
    }
    if (at < 0) {
      return new double[] {0, 0, 0};
    }
    double bend = size[at - 1] - 2 * size[at] + size[at + 1];
    double slope = size[at - 1] - size[at + 1];
    double shift = bend < 0 ? Math.max(-0.5, Math.min(0.5, slope / (2 * bend))) : 0;
    double phase = polar(z[at][0], z[at][1])[1];
    int other = shift >= 0 ? at + 1 : at - 1;
    double turn = Math.IEEEremainder(polar(z[other][0], z[other][1])[1] - phase, 2 * Math.PI);
    return new double[] {size[at] - slope * shift / 4, at + shift, phase + Math.abs(shift) * turn};
  }
}
