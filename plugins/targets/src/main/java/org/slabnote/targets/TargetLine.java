package org.slabnote.targets;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;

/**
 * A straight line in plan through sightings, with its depth along it.
 *
 * <p>Plan: total least squares. Depth: a polynomial of degree 0, 1 or 2 in the coordinate along the
 * line; a degree is added where it takes the sum of squares down by more than nine residual variances
 * (three standard deviations), the residual standard deviation being taken as 1 mm at least.
 *
 * @param members sightings in order along the line, at most one of each pass
 * @param x mean place, m
 * @param y the same
 * @param ux unit direction
 * @param uy the same
 * @param from coordinate of the first sighting along the direction from (x, y), m
 * @param to of the last
 * @param depth coefficients of the depth, m, over powers of the coordinate
 * @param planResidual root mean square distance from the line, m
 * @param depthResidual standard deviation of the depths about the polynomial, m, 1 mm at least
 */
record TargetLine(
    List<Sighting> members,
    double x,
    double y,
    double ux,
    double uy,
    double from,
    double to,
    double[] depth,
    double planResidual,
    double depthResidual) {
  private static final double LEAST_DEVIATION = 0.001;

  /** Fits a line; two sightings at least, at different places. */
  static TargetLine fit(List<Sighting> sightings) {
    int n = sightings.size();
    double mx = 0;
    double my = 0;
    for (Sighting s : sightings) {
      mx += s.x() / n;
      my += s.y() / n;
    }
    double xx = 0;
    double yy = 0;
    double xy = 0;
    for (Sighting s : sightings) {
      xx += (s.x() - mx) * (s.x() - mx);
      yy += (s.y() - my) * (s.y() - my);
      xy += (s.x() - mx) * (s.y() - my);
    }
    double angle = 0.5 * StrictMath.atan2(2 * xy, xx - yy);
    double ux = StrictMath.cos(angle);
    double uy = StrictMath.sin(angle);
    if (uy < 0 || (uy == 0 && ux < 0)) {
      ux = -ux;
      uy = -uy;
    }
    List<Sighting> sorted = new ArrayList<>(sightings);
    double dx = ux;
    double dy = uy;
    double px = mx;
    double py = my;
    sorted.sort(Comparator.comparingDouble((Sighting s) -> along(s, px, py, dx, dy))
        .thenComparingInt(Sighting::pass));
    double square = 0;
    double[] at = new double[n];
    double[] z = new double[n];
    for (int i = 0; i < n; i++) {
      Sighting s = sorted.get(i);
      at[i] = along(s, mx, my, ux, uy);
      z[i] = s.depth();
      double off = (s.x() - mx) * uy - (s.y() - my) * ux;
      square += off * off;
    }
    double[] depth = depth(at, z);
    double sigma = deviation(at, z, depth);
    return new TargetLine(
        List.copyOf(sorted), mx, my, ux, uy, at[0], at[n - 1], depth, Math.sqrt(square / n), sigma);
  }

  private static double along(Sighting s, double px, double py, double ux, double uy) {
    return (s.x() - px) * ux + (s.y() - py) * uy;
  }

  private static double[] depth(double[] at, double[] z) {
    double[] best = polynomial(at, z, 0);
    for (int degree = 1; degree <= 2 && z.length >= degree + 3; degree++) {
      double[] next = polynomial(at, z, degree);
      double sigma = deviation(at, z, next);
      if (squares(at, z, best) - squares(at, z, next) > 9 * sigma * sigma) {
        best = next;
      }
    }
    return best;
  }

  private static double[] polynomial(double[] at, double[] z, int degree) {
    double[][] normal = new double[degree + 1][degree + 2];
    for (int i = 0; i < z.length; i++) {
      double[] power = new double[degree + 1];
      power[0] = 1;
      for (int k = 1; k <= degree; k++) {
        power[k] = power[k - 1] * at[i];
      }
      for (int a = 0; a <= degree; a++) {
        for (int b = 0; b <= degree; b++) {
          normal[a][b] += power[a] * power[b];
        }
        normal[a][degree + 1] += power[a] * z[i];
      }
    }
    double[] solved = Small.solve(normal);
    return solved.length == 0 ? polynomial(at, z, degree - 1) : solved;
  }

  private static double squares(double[] at, double[] z, double[] depth) {
    double sum = 0;
    for (int i = 0; i < z.length; i++) {
      double r = z[i] - value(depth, at[i]);
      sum += r * r;
    }
    return sum;
  }

  private static double deviation(double[] at, double[] z, double[] depth) {
    int free = z.length - depth.length;
    double s = free <= 0 ? 0 : Math.sqrt(squares(at, z, depth) / free);
    return Math.max(LEAST_DEVIATION, s);
  }

  private static double value(double[] depth, double at) {
    double sum = 0;
    for (int k = depth.length - 1; k >= 0; k--) {
      sum = sum * at + depth[k];
    }
    return sum;
  }

  double along(double px, double py) {
    return (px - x) * ux + (py - y) * uy;
  }

  double off(double px, double py) {
    return Math.abs((px - x) * uy - (py - y) * ux);
  }

  double depthAt(double along) {
    return value(depth, along);
  }

  double middle() {
    return (from + to) / 2;
  }
}
