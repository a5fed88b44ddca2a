package org.slabnote.forward;

/**
 * Propagation constants of the concrete on a frequency grid.
 *
 * <p>{@code alpha, beta = omega sqrt(mu eps / 2) sqrt(sqrt(1 + tan^2) -/+ 1)} with {@code tan =
 * sigma / (omega eps) + lossTangent} (Balanis, Advanced Engineering Electromagnetics, ch. 4).
 */
final class Medium {
  private static final double C = 0.299792458;
  /** Vacuum permittivity in S ns/m: 8.8541878128e-12 F/m (CODATA 2018). */
  private static final double EPS0 = 8.8541878128e-3;

  final double[] alpha;
  final double[] beta;
  final double index;

  /** Frequencies in GHz, above zero. */
  Medium(Concrete concrete, double[] frequencies) {
    alpha = new double[frequencies.length];
    beta = new double[frequencies.length];
    double eps = concrete.permittivity().value();
    index = Math.sqrt(eps);
    for (int k = 0; k < frequencies.length; k++) {
      double omega = 2 * StrictMath.PI * frequencies[k];
      double tan = concrete.conductivity().value() / (omega * EPS0 * eps)
          + concrete.lossTangent().value();
      double root = Math.sqrt(1 + tan * tan);
      double scale = omega / C * Math.sqrt(eps / 2);
      alpha[k] = scale * Math.sqrt(root - 1);
      beta[k] = scale * Math.sqrt(root + 1);
    }
  }
}
