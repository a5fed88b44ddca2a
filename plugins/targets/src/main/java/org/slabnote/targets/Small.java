package org.slabnote.targets;

/** Normal equations of a few unknowns, by Gauss's elimination with pivots. */
final class Small {
  private Small() {}

  /**
   * Solves; the last column is the right side, the input stays as it is.
   *
   * @return the unknowns, or an empty array where the matrix is singular (a pivot below 1e-12 of the
   *     greatest of its column at the start)
   */
  static double[] solve(double[][] system) {
    int n = system.length;
    double[][] a = new double[n][];
    double[] size = new double[n];
    for (int i = 0; i < n; i++) {
      a[i] = system[i].clone();
      for (int k = 0; k < n; k++) {
        size[k] = Math.max(size[k], Math.abs(system[i][k]));
      }
    }
    for (int k = 0; k < n; k++) {
      int pivot = k;
      for (int i = k + 1; i < n; i++) {
        pivot = Math.abs(a[i][k]) > Math.abs(a[pivot][k]) ? i : pivot;
      }
      if (!(Math.abs(a[pivot][k]) > 1e-12 * size[k])) {
        return new double[0];
      }
      double[] row = a[pivot];
      a[pivot] = a[k];
      a[k] = row;
      for (int i = k + 1; i < n; i++) {
        double f = a[i][k] / row[k];
        for (int j = k; j <= n; j++) {
          a[i][j] -= f * row[j];
        }
      }
    }
    double[] x = new double[n];
    for (int k = n - 1; k >= 0; k--) {
      double sum = a[k][n];
      for (int j = k + 1; j < n; j++) {
        sum -= a[k][j] * x[j];
      }
      x[k] = sum / a[k][k];
    }
    return x;
  }

  /** Diagonal of the inverse of the left n by n part; empty where it is singular. */
  static double[] inverseDiagonal(double[][] system) {
    int n = system.length;
    double[] diagonal = new double[n];
    for (int k = 0; k < n; k++) {
      double[][] unit = new double[n][];
      for (int i = 0; i < n; i++) {
        unit[i] = system[i].clone();
        unit[i][n] = i == k ? 1 : 0;
      }
      double[] column = solve(unit);
      if (column.length == 0) {
        return column;
      }
      diagonal[k] = column[k];
    }
    return diagonal;
  }
}
