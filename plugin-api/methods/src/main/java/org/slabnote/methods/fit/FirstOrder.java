package org.slabnote.methods.fit;

/**
 * First-order propagation of uncertainty: {@code u^2(y) = c' V c}, c the sensitivities dy/dx.
 *
 * <p>Sensitivities by differences over one standard uncertainty, {@code c_i = (f(x + u_i) - f(x - u_i)) /
 * (2 u_i)}, so a curvature within that range is averaged; where it matters, see {@link MonteCarlo}.
 *
 * <p>Source: JCGM 100:2008 (GUM), 5.1 and 5.2. Check: UncertaintyReferenceTest (its annex H.2).
 *
 * @since 0.1
 */
public final class FirstOrder {

  /** A quantity that depends on others. */
  @FunctionalInterface
  public interface Quantity {
    /**
     * Computes the quantity.
     *
     * @param inputs values of the inputs; not to be changed
     * @return value
     */
    double of(double[] inputs);
  }

  private FirstOrder() {}

  /**
   * Sensitivities of a quantity.
   *
   * @param quantity function of the inputs
   * @param inputs estimates
   * @param uncertainties their standard uncertainties, 0 or more; 0 gives sensitivity 0
   * @return derivatives, one for each input
   * @throws IllegalArgumentException if counts differ or an uncertainty is negative
   */
  public static double[] sensitivities(Quantity quantity, double[] inputs, double[] uncertainties) {
    if (inputs.length != uncertainties.length) {
      throw new IllegalArgumentException("propagation of uncertainty: " + inputs.length
          + " inputs, " + uncertainties.length + " uncertainties; expected as many");
    }
    double[] slopes = new double[inputs.length];
    for (int i = 0; i < slopes.length; i++) {
      double u = uncertainties[i];
      if (!(u >= 0) || Double.isInfinite(u)) {
        throw new IllegalArgumentException(
            "propagation of uncertainty: uncertainty " + i + " = " + u + "; expected 0 or more");
      }
      if (u > 0) {
        double[] moved = inputs.clone();
        moved[i] = inputs[i] + u;
        double above = quantity.of(moved);
        moved[i] = inputs[i] - u;
        slopes[i] = (above - quantity.of(moved)) / (2 * u);
      }
    }
    return slopes;
  }

  /**
   * Covariance of two quantities of the same inputs: {@code sum over i, k of a_i b_k u_i u_k r_ik}.
   *
   * @param a sensitivities of one quantity
   * @param b sensitivities of the other; the same array for a variance
   * @param uncertainties standard uncertainties of the inputs
   * @param correlation correlation coefficients, 1 on the diagonal
   * @return covariance
   */
  public static double covariance(
      double[] a, double[] b, double[] uncertainties, double[][] correlation) {
    double sum = 0;
    for (int i = 0; i < a.length; i++) {
      for (int k = 0; k < b.length; k++) {
        sum += a[i] * b[k] * uncertainties[i] * uncertainties[k] * correlation[i][k];
      }
    }
    return sum;
  }
}
