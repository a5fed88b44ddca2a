package org.slabnote.methods.fit;

import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.CholeskyDecomposition;
import org.apache.commons.math3.linear.NonPositiveDefiniteMatrixException;
import org.apache.commons.math3.linear.NonSymmetricMatrixException;

/**
 * Normal numbers with given means and covariances: {@code mean + L z}, L the Cholesky factor.
 *
 * @since 0.1
 */
public final class CorrelatedNormal {
  private final double[] means;
  private final double[][] factor;

  private CorrelatedNormal(double[] means, double[][] factor) {
    this.means = means;
    this.factor = factor;
  }

  /**
   * Prepares the draws.
   *
   * @param means means
   * @param covariance covariance matrix, symmetric, positive definite
   * @return the distribution
   * @throws IllegalArgumentException if sizes differ or the matrix is no covariance
   */
  public static CorrelatedNormal of(double[] means, double[][] covariance) {
    if (covariance.length != means.length) {
      throw new IllegalArgumentException("correlated normal numbers: " + means.length
          + " means, covariance of " + covariance.length + " rows; expected as many");
    }
    try {
      CholeskyDecomposition root =
          new CholeskyDecomposition(new Array2DRowRealMatrix(covariance), 1e-12, 0);
      return new CorrelatedNormal(means.clone(), root.getL().getData());
    } catch (NonPositiveDefiniteMatrixException | NonSymmetricMatrixException e) {
      throw new IllegalArgumentException(
          "correlated normal numbers: the matrix is not a covariance; expected a symmetric,"
              + " positive definite one (correlations between -1 and 1)",
          e);
    }
  }

  /**
   * Draws one set.
   *
   * @param chance source of chance
   * @return new array, as many numbers as means
   */
  public double[] next(SeededNormal chance) {
    double[] z = new double[means.length];
    for (int i = 0; i < z.length; i++) {
      z[i] = chance.next();
    }
    double[] out = means.clone();
    for (int i = 0; i < out.length; i++) {
      for (int k = 0; k <= i; k++) {
        out[i] += factor[i][k] * z[k];
      }
    }
    return out;
  }
}
