package org.slabnote.desktop;

import java.util.Arrays;
import org.slabnote.report.Radargram;

/**
 * Draws a stretch of a radargram into pixels. Where several samples fall into a pixel their mean is
 * drawn; where a sample covers several pixels, what lies between is interpolated. For viewing only.
 */
final class Raster {
  private static final int NOTHING = 0xffe9e5dc;

  private final Radargram picture;
  private final double[] column;

  Raster(Radargram picture) {
    this.picture = picture;
    this.column = new double[picture.rows()];
  }

  /**
   * Fills the pixels, row by row, opaque.
   *
   * @param pixels at least {@code width * height}
   * @param from distance at the left edge, metres
   * @param to distance at the right edge
   * @param first value (time or depth) at the upper edge
   * @param last value at the lower edge
   */
  void fill(
      int[] pixels, int width, int height, double from, double to, double first, double last) {
    double[] rows = new double[height + 1];
    for (int y = 0; y <= height; y++) {
      rows[y] = (first + (last - first) * y / height - picture.first()) / picture.step();
    }
    double[] edges = new double[width + 1];
    for (int x = 0; x <= width; x++) {
      edges[x] = trace(from + (to - from) * x / width);
    }
    for (int x = 0; x < width; x++) {
      double middle = from + (to - from) * (x + 0.5) / width;
      if (middle < 0 || middle > picture.length()) {
        for (int y = 0; y < height; y++) {
          pixels[y * width + x] = NOTHING;
        }
        continue;
      }
      gather(edges[x], edges[x + 1]);
      for (int y = 0; y < height; y++) {
        double j = (rows[y] + rows[y + 1]) / 2;
        pixels[y * width + x] =
            j < -0.5 || j > picture.rows() - 0.5 ? NOTHING : grey(rows[y], rows[y + 1]);
      }
    }
  }

  /** The trace, a fraction perhaps, at a distance along the pass. */
  double trace(double distance) {
    double[] d = picture.distances();
    int found = Arrays.binarySearch(d, distance);
    if (found >= 0) {
      return found;
    }
    int after = -found - 1;
    if (after == 0) {
      return 0;
    }
    if (after == d.length) {
      return d.length - 1;
    }
    return after - 1 + (distance - d[after - 1]) / (d[after] - d[after - 1]);
  }

  /** Takes the traces between two places together into one column. */
  private void gather(double a, double b) {
    int n = picture.rows();
    byte[] grey = picture.grey();
    if (b - a <= 1) {
      double middle = Math.max(0, Math.min(picture.columns() - 1, (a + b) / 2));
      int left = (int) middle;
      int right = Math.min(picture.columns() - 1, left + 1);
      double part = middle - left;
      for (int j = 0; j < n; j++) {
        int g = grey[left * n + j] & 0xff;
        column[j] = g + part * ((grey[right * n + j] & 0xff) - g);
      }
      return;
    }
    int left = (int) Math.ceil(a);
    int right = Math.min(picture.columns() - 1, Math.max(left, (int) Math.ceil(b) - 1));
    Arrays.fill(column, 0);
    for (int i = left; i <= right; i++) {
      int at = i * n;
      for (int j = 0; j < n; j++) {
        column[j] += grey[at + j] & 0xff;
      }
    }
    double share = 1.0 / (right - left + 1);
    for (int j = 0; j < n; j++) {
      column[j] *= share;
    }
  }

  private int grey(double a, double b) {
    double value;
    if (b - a <= 1) {
      double middle = Math.max(0, Math.min(column.length - 1, (a + b) / 2));
      int above = (int) middle;
      int below = Math.min(column.length - 1, above + 1);
      value = column[above] + (middle - above) * (column[below] - column[above]);
    } else {
      int from = Math.max(0, (int) Math.ceil(a));
      int to = Math.min(column.length - 1, Math.max(from, (int) Math.ceil(b) - 1));
      double sum = 0;
      for (int j = from; j <= to; j++) {
        sum += column[j];
      }
      value = sum / (to - from + 1);
    }
    int g = (int) (value + 0.5);
    return 0xff000000 | g << 16 | g << 8 | g;
  }
}
