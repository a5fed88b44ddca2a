package org.slabnote.methods.path;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.slabnote.methods.Csv;

/** Against bistatic_cylinder_time.csv, made by a bounded minimiser on the arc (see README there). */
class TravelTimeReferenceTest {
  private final Csv table = Csv.read("bistatic_cylinder_time.csv");

  /** Printed to 14 digits; 1e-12 relative leaves room for their last one. */
  @Test
  void meetsTheMinimiserOnTheArc() {
    for (int i = 0; i < table.size(); i++) {
      double expected = table.number(i, "t_exact_ns");
      assertThat(time(i, 0, 0, 0)).as("row %d", i).isCloseTo(expected, within(1e-12 * expected));
    }
  }

  @Test
  void derivativesMeetDifferences() {
    double step = 1e-5;
    for (int i = 0; i < table.size(); i++) {
      if (table.number(i, "radius_m") == 0) {
        continue; // the difference would need a negative radius
      }
      double v = table.number(i, "velocity_m_per_ns");
      TravelTime.Path path = TravelTime.cylinderPath(
          table.number(i, "x_minus_x0_m"),
          table.number(i, "cover_to_top_m"),
          table.number(i, "radius_m"),
          table.number(i, "tx_rx_separation_m"),
          StrictMath.toRadians(table.number(i, "crossing_angle_deg")));
      assertThat(path.length()).isEqualTo(time(i, 0, 0, 0) * v, within(1e-15));
      // truncation of the central difference: third derivative times step^2 / 6, below 1e-6 here
      assertThat(path.perX())
          .isCloseTo((time(i, step, 0, 0) - time(i, -step, 0, 0)) * v / (2 * step), within(1e-6));
      assertThat(path.perCover())
          .isCloseTo((time(i, 0, step, 0) - time(i, 0, -step, 0)) * v / (2 * step), within(1e-6));
      assertThat(path.perRadius())
          .isCloseTo((time(i, 0, 0, step) - time(i, 0, 0, -step)) * v / (2 * step), within(1e-6));
    }
  }

  private double time(int row, double moreX, double moreCover, double moreRadius) {
    return TravelTime.cylinder(
        table.number(row, "x_minus_x0_m") + moreX,
        table.number(row, "cover_to_top_m") + moreCover,
        table.number(row, "radius_m") + moreRadius,
        table.number(row, "tx_rx_separation_m"),
        StrictMath.toRadians(table.number(row, "crossing_angle_deg")),
        table.number(row, "velocity_m_per_ns"));
  }
}
