package org.slabnote.report;

import java.util.Arrays;
import org.slabnote.api.Scan;
import org.slabnote.api.Section;
import org.slabnote.api.VelocityEstimate;

/**
 * A radargram or section as a grey picture with its axes, for report and window alike.
 *
 * <p>Grey shows the amplitude compressed by its square root, {@code sign(a) sqrt(|a| / a99)}, a99 the
 * amplitude that 1 % of the samples exceed: weak echoes stay visible beside strong ones. It is for
 * viewing; no figure is read from it.
 *
 * @param columns number of columns (traces)
 * @param rows number of rows (samples or depths)
 * @param grey grey value of each pixel, column by column, 0 black to 255 white
 * @param distances distance of each column along the pass, metres
 * @param first value at the first row: ns after the surface, or metres
 * @param step step between rows
 * @param depth whether rows are depths and not times
 * @since 0.1
 */
public record Radargram(
    int columns,
    int rows,
    byte[] grey,
    double[] distances,
    double first,
    double step,
    boolean depth) {

  /** Returns the picture of a scan; times count from the surface where that is known. */
  public static Radargram of(Scan scan) {
    double surface = scan.surface().map(s -> s.value().value()).orElse(0.0);
    return of(
        scan.samples().toArray(),
        scan.traces(),
        scan.axis().count(),
        scan.track().distances(),
        scan.axis().start().value() - surface,
        scan.interval().value(),
        false);
  }

  /** Returns the picture of a section. */
  public static Radargram of(Section section) {
    return of(
        section.values().toArray(),
        section.track().size(),
        section.depths(),
        section.track().distances(),
        section.top().value(),
        section.step().value(),
        true);
  }

  private static Radargram of(
      float[] values,
      int columns,
      int rows,
      double[] distances,
      double first,
      double step,
      boolean depth) {
    float[] sizes = new float[values.length];
    int n = 0;
    for (float v : values) {
      if (!Float.isNaN(v)) {
        sizes[n++] = Math.abs(v);
      }
    }
    Arrays.sort(sizes, 0, n);
    float most = n == 0 ? 0 : sizes[Math.min(n - 1, (int) (0.99 * n))];
    byte[] grey = new byte[values.length];
    for (int i = 0; i < values.length; i++) {
      double share =
          Float.isNaN(values[i]) || most == 0 ? 0 : Math.min(1, Math.abs(values[i]) / most);
      double tone =
          127.5 - Math.signum(Float.isNaN(values[i]) ? 0 : values[i]) * 127.5 * Math.sqrt(share);
      grey[i] = (byte) Math.round(tone);
    }
    return new Radargram(columns, rows, grey, distances, first, step, depth);
  }

  /** Returns the grey value of a pixel, 0 to 255. */
  public int grey(int column, int row) {
    return grey[column * rows + row] & 0xff;
  }

  /** Returns the length along the pass, metres; never zero. */
  public double length() {
    return Math.max(1e-3, distances[distances.length - 1]);
  }

  /** Returns the value at the last row. */
  public double last() {
    return first + (rows - 1) * step;
  }

  /**
   * Returns the two-way time after the surface at which a plane at a depth would show, ns: {@code
   * sqrt(4 z^2 + s^2) / v}.
   */
  public static double time(double depth, double separation, VelocityEstimate velocity) {
    return Math.sqrt(4 * depth * depth + separation * separation)
        / velocity.velocity().value().value();
  }
}
