package org.slabnote.methods.fit;

import java.util.Arrays;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.QRDecomposition;
import org.apache.commons.math3.linear.RealMatrix;

/**
 * What the Jacobian says at a point, by QR: J'J is never formed, which would halve the digits.
 *
 * @param inverse (J'J)^-1 in the caller's units, NaN for parameters that are held
 * @param along squared length of the residuals' part that the parameters could still remove
 * @param largestStep greatest modulus of the next Gauss-Newton step, in scaled unknowns
 */
record Decomposition(double[][] inverse, double along, double largestStep) {

  /** Sine of the angle between a column and the others that counts as none: errors of differences. */
  private static final double SMALLEST_PIVOT = 1e-9;

  /** Decomposes the columns of the free parameters. */
  static Decomposition of(
      double[][] jacobian, int[] places, double[] size, double[] residuals, String name) {
    double[][] inverse = new double[size.length][size.length];
    for (double[] row : inverse) {
      Arrays.fill(row, Double.NaN);
    }
    int free = places.length;
    if (free == 0) {
      return new Decomposition(inverse, 0, 0);
    }
    double[] norms = norms(jacobian, places, name);
    RealMatrix r = triangle(jacobian, places, norms, residuals);
    double along = 0;
    for (int c = 0; c < free; c++) {
      along += r.getEntry(c, free) * r.getEntry(c, free);
      if (Math.abs(r.getEntry(c, c)) < SMALLEST_PIVOT) {
        throw undetermined(name, places[c]);
      }
    }
    double[][] back = inverseOfUpper(r, free);
    double largest = 0;
    for (int a = 0; a < free; a++) {
      double step = 0;
      for (int c = a; c < free; c++) {
        step += back[a][c] * r.getEntry(c, free);
      }
      largest = Math.max(largest, Math.abs(step / norms[a]));
      for (int b = 0; b < free; b++) {
        double sum = 0;
        for (int c = 0; c < free; c++) {
          sum += back[a][c] * back[b][c];
        }
        double scale = size[places[a]] * size[places[b]] / (norms[a] * norms[b]);
        inverse[places[a]][places[b]] = sum * scale;
      }
    }
    return new Decomposition(inverse, along, largest);
  }

  private static double[] norms(double[][] jacobian, int[] places, String name) {
    double[] norms = new double[places.length];
    for (int c = 0; c < norms.length; c++) {
      double sum = 0;
      for (double[] row : jacobian) {
        sum += row[places[c]] * row[places[c]];
      }
      norms[c] = Math.sqrt(sum);
      if (norms[c] == 0) {
        throw undetermined(name, places[c]);
      }
    }
    return norms;
  }

  /** R of the columns, each of length 1, with Q' times the residuals as one more column. */
  private static RealMatrix triangle(
      double[][] jacobian, int[] places, double[] norms, double[] residuals) {
    int free = places.length;
    double[][] part = new double[residuals.length][free + 1];
    for (int i = 0; i < part.length; i++) {
      for (int c = 0; c < free; c++) {
        part[i][c] = jacobian[i][places[c]] / norms[c];
      }
      part[i][free] = residuals[i];
    }
    return new QRDecomposition(new Array2DRowRealMatrix(part, false)).getR();
  }

  private static double[][] inverseOfUpper(RealMatrix r, int size) {
    double[][] x = new double[size][size];
    for (int column = 0; column < size; column++) {
      for (int row = column; row >= 0; row--) {
        double sum = row == column ? 1 : 0;
        for (int k = row + 1; k <= column; k++) {
          sum -= r.getEntry(row, k) * x[k][column];
        }
        x[row][column] = sum / r.getEntry(row, row);
      }
    }
    return x;
  }

  private static NoConvergenceException undetermined(String name, int parameter) {
    return new NoConvergenceException(name
        + ": the observations do not determine parameter "
        + parameter
        + " (counted from 0) apart from the others. Fix it, or add observations that depend on it");
  }
}
