package org.slabnote.targets;

import org.slabnote.api.Orientation;
import org.slabnote.api.Scan;
import org.slabnote.api.VelocityEstimate;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Length;
import org.slabnote.api.quantity.Measured;
import org.slabnote.api.quantity.TimeSpan;

/**
 * Depth from an apex time with its budget (JCGM 100:2008, 5.1.2).
 *
 * <p>{@code z = sqrt((v t)^2 - s^2) / 2}, exact for the top of a cylinder of any radius crossed at any
 * angle, and for a plane: {@code dz/dt = v^2 t / (4 z)}, {@code dz/dv = v t^2 / (4 z)}, {@code dz/dt0 =
 * -dz/dt}, {@code dz/ds = -s / (4 z)}. What velocity and surface time share cancels by sign.
 *
 * <p>The envelope's peak is not the ray's time. By the exact series for a dipole pair over steel of 6
 * to 75 mm at covers of 30 to 200 mm it lies within -0.02 to +0.01 periods of it across, and 0.01 to
 * 0.17 after it along; over air-filled plastic tubes of 21 to 60 mm up to 0.10 across, up to 0.24
 * along (bistatic_pair_ratio.csv of the methods' checks). So: across 0.01 with a standard uncertainty of
 * 0.065 periods, along 0.10 with 0.055; anything else 0.05 with 0.06. Planes: 0 with 0.03.
 */
final class DepthBudget {
  /** Labels of uncertainty sources: an event's own, and one that events of a kind share. */
  static final String PICK = "pick ";

  static final String DELAY = "envelope delay";

  private DepthBudget() {}

  /** Delay of the envelope's peak after the ray's time, in periods, with its standard uncertainty. */
  record Delay(double periods, double u) {
    static Delay of(Orientation orientation, boolean plane) {
      if (plane) {
        return new Delay(0, 0.03);
      }
      return switch (orientation) {
        case ACROSS -> new Delay(0.01, 0.065);
        case ALONG -> new Delay(0.10, 0.055);
        case CROSSED, OBLIQUE -> new Delay(0.05, 0.06);
      };
    }
  }

  /** Time since the surface, with the pick's own and the surface's contributions. */
  static Measured<TimeSpan> time(
      Scan scan, double sinceSurface, double pickU, int number, Work work) {
    return Measured.about(new TimeSpan(sinceSurface))
        .from(scan.requireSurface(), -1)
        .from(work.source(PICK + number), pickU)
        .build();
  }

  /** Depth to the top; {@code period} in ns. */
  static Measured<Length> depth(
      Scan scan,
      VelocityEstimate velocity,
      Measured<TimeSpan> time,
      double period,
      boolean plane,
      Work work) {
    double v = velocity.velocity().value().value();
    double s = scan.antenna().separation().value();
    Delay delay = Delay.of(scan.orientation(), plane);
    double path = Math.max(v * (time.value().value() - delay.periods() * period), s);
    double t = path / v;
    double z = Math.sqrt((path - s) * (path + s)) / 2;
    double slope = v * v * t / (4 * Math.max(z, LEAST_DEPTH));
    return Measured.about(new Length(z))
        .from(time, slope)
        .from(velocity.velocity(), slope * t / v)
        .from(work.commonSource(DELAY), slope * delay.u() * period)
        .build();
  }

  /** Above this depth, m, the formula's slope has no bound and the echo no time of its own. */
  private static final double LEAST_DEPTH = 0.005;
}
