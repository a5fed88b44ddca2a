package org.slabnote.formats;

import java.util.List;
import java.util.Optional;
import org.slabnote.api.SurveyRow;
import org.slabnote.api.quantity.Units;
import org.slabnote.formats.segy.SegyField;
import org.slabnote.formats.segy.SegyFile;
import org.slabnote.formats.segy.SegyTrace;

/**
 * Holds the coordinates in the trace headers against the start and end that the survey table states. They
 * never take their place.
 *
 * <p>Looked at are the midpoints (CDP X and Y) or, where these are all 0, the means of source and group,
 * both with their scalar. They may be in the frame of a building, so that only what no change of frame
 * explains is an error:
 *
 * <ol>
 *   <li>The length from the first trace to the last differs from the survey's by more than the tolerance,
 *       and the header's unit is unmistakable: coordinate units 1 in each trace and measurement system 1
 *       (metres) or 2 (feet). This is how a file cut short between two traces is noticed.
 *   <li>The header's first place is the survey's last and the other way round: the pass runs backwards.
 * </ol>
 *
 * <p>Only remarked: another unit than the header's own (the lengths agree when it is taken as millimetres
 * or centimetres); places in another frame; trace spacing that is not even; source and group more than 5
 * mm nearer or farther apart than the antennas; coordinates without a unit.
 * The tolerance is the greatest of 2 %, 15 mm and one step of the header's numbers: a hand-held antenna
 * is not placed better (common practice, no source).
 */
final class PositionCheck {
  private static final double TOLERANCE_SHARE = 0.02;
  private static final double TOLERANCE_M = 0.015;
  private static final double SEPARATION_TOLERANCE_M = 0.005;
  private static final double METRES_PER_FOOT = 0.3048;

  private final SegyFile file;
  private final SurveyRow row;
  private final List<String> remarks;

  private PositionCheck(SegyFile file, SurveyRow row, List<String> remarks) {
    this.file = file;
    this.row = row;
    this.remarks = remarks;
  }

  static void of(SegyFile file, SurveyRow row, List<String> remarks) {
    new PositionCheck(file, row, remarks).check();
  }

  private void check() {
    String choice = SegyFormat.column(row, "header_positions").orElse("check");
    if (!choice.equals("check") && !choice.equals("ignore")) {
      throw RowFault.of(
          file,
          "",
          RowFault.name(row) + " says header_positions = " + choice
              + "; expected check, ignore or nothing. Correct survey.csv");
    }
    int last = file.traceCount() - 1;
    Optional<double[][]> found = last > 0 ? midpoints() : Optional.empty();
    if (found.isEmpty()) {
      return;
    }
    if (choice.equals("ignore")) {
      remarks.add("The coordinates in the trace headers were not looked at, as survey.csv says");
      return;
    }
    Optional<Double> unit = metresPerUnit();
    if (unit.isEmpty()) {
      remarks.add(
          "The coordinates in the trace headers have no stated unit of length (bytes 89-90 and"
              + " 3255-3256) and were not held against the survey table");
      return;
    }
    separation(unit.get());
    check(found.get(), unit.get());
  }

  /** Source and group of the first trace against the antenna separation: only remarked. */
  private void separation(double unit) {
    SegyTrace trace = file.trace(0);
    double[] source = {trace.sourceX(), trace.sourceY()};
    double[] group = {trace.groupX(), trace.groupY()};
    double apart = unit * distance(source, group);
    double stated = row.antenna().separation().value();
    double tolerance = Math.max(SEPARATION_TOLERANCE_M, unit * step());
    if (apart > 0 && Double.isFinite(apart) && Math.abs(apart - stated) > tolerance) {
      remarks.add(
          "The trace headers put source and group " + metres(apart) + " apart, survey.csv says"
              + " antenna_offset_m = " + metres(stated) + "; the survey table's was taken");
    }
  }

  private void check(double[][] points, double unit) {
    int last = points.length - 1;
    double stated = row.start().to(row.end()).value();
    double length = unit * distance(points[0], points[last]);
    double tolerance = Math.max(TOLERANCE_M, Math.max(TOLERANCE_SHARE * stated, unit * step()));
    if (Math.abs(length - stated) > tolerance) {
      lengthsDiffer(length, stated, tolerance);
      return;
    }
    if (Math.abs(length - stated) > Math.max(stated / last / 2, unit * step())) {
      remarks.add(
          "The trace headers cover " + metres(length) + ", survey.csv says " + metres(stated)
              + ": within the tolerance of " + metres(tolerance)
              + ", yet more than half a trace spacing;"
              + " the survey table's was kept");
    }
    double[] start = {row.start().x().value(), row.start().y().value()};
    double[] end = {row.end().x().value(), row.end().y().value()};
    double[] first = {unit * points[0][0], unit * points[0][1]};
    double[] finish = {unit * points[last][0], unit * points[last][1]};
    double off = Math.max(distance(first, start), distance(finish, end));
    if (off > tolerance) {
      if (distance(first, end) <= tolerance && distance(finish, start) <= tolerance) {
        throw RowFault.of(
            file,
            "",
            "the trace headers run from " + place(first) + " to "
                + place(finish) + ", but " + RowFault.name(row) + " says from " + place(start)
                + " to " + place(end)
                + ". Swap start and end in survey.csv if the pass was taken that way; nothing was read");
      }
      remarks.add("The coordinates in the trace headers run from " + place(first) + " to "
          + place(finish) + ": taken as another frame than the slab's, since the length agrees");
    }
    spacing(points, unit, length, tolerance);
  }

  private void lengthsDiffer(double length, double stated, double tolerance) {
    for (int divisor : new int[] {1000, 100}) {
      if (Math.abs(length / divisor - stated) <= tolerance && stated > 0) {
        remarks.add("The coordinates in the trace headers are perhaps in "
            + (divisor == 1000 ? "millimetres" : "centimetres")
            + ", though stated in metres: so read, the length of the pass agrees with survey.csv");
        return;
      }
    }
    throw RowFault.of(
        file,
        "",
        "from the first to the last of " + file.traceCount()
            + " traces the trace headers cover " + metres(length) + ", but " + RowFault.name(row)
            + " says "
            + metres(stated) + "; expected the same within " + metres(tolerance)
            + ". Correct x0_m to y1_m in survey.csv, copy the file again if traces are missing, or state"
            + " ignore in the column header_positions; nothing was read");
  }

  private void spacing(double[][] points, double unit, double length, double tolerance) {
    int worst = 0;
    double most = 0;
    for (int i = 1; i < points.length; i++) {
      double even = length * i / (points.length - 1);
      double off = Math.abs(unit * distance(points[0], points[i]) - even);
      if (off > most) {
        most = off;
        worst = i;
      }
    }
    if (most > tolerance) {
      remarks.add("By the trace headers the traces are not evenly spaced: trace " + (worst + 1)
          + " is off by " + metres(most) + "; the even spacing of the survey table was kept");
    }
  }

  /** The antenna midpoints in header units; empty where the headers hold none or all the same. */
  private Optional<double[][]> midpoints() {
    int n = file.traceCount();
    double[][] cdp = new double[n][];
    double[][] mean = new double[n][];
    for (int i = 0; i < n; i++) {
      SegyTrace trace = file.trace(i);
      cdp[i] = new double[] {trace.midpointX(), trace.midpointY()};
      mean[i] = new double[] {
        (trace.sourceX() + trace.groupX()) / 2, (trace.sourceY() + trace.groupY()) / 2
      };
    }
    if (vary(cdp)) {
      return Optional.of(cdp);
    }
    return vary(mean) ? Optional.of(mean) : Optional.empty();
  }

  private static boolean vary(double[][] points) {
    for (double[] point : points) {
      if (!(Double.isFinite(point[0]) && Double.isFinite(point[1]))) {
        return false;
      }
    }
    for (double[] point : points) {
      if (point[0] != points[0][0] || point[1] != points[0][1]) {
        return true;
      }
    }
    return false;
  }

  private Optional<Double> metresPerUnit() {
    for (int i = 0; i < file.traceCount(); i++) {
      if (file.trace(i).header().get(SegyField.COORDINATE_UNITS) != 1) {
        return Optional.empty();
      }
    }
    int system = (int) file.header().get(SegyField.MEASUREMENT_SYSTEM);
    return switch (system) {
      case 1 -> Optional.of(1.0);
      case 2 -> Optional.of(METRES_PER_FOOT);
      default -> Optional.empty();
    };
  }

  /** One step of the header's whole numbers, in header units: the scalar of the first trace. */
  private double step() {
    long scalar = file.trace(0).header().get(SegyField.COORDINATE_SCALAR);
    return scalar == 0 ? 1 : scalar < 0 ? 1.0 / -scalar : scalar;
  }

  private static double distance(double[] a, double[] b) {
    return StrictMath.hypot(a[0] - b[0], a[1] - b[1]);
  }

  private static String place(double[] point) {
    return Units.fixed(point[0], 3) + ", " + Units.fixed(point[1], 3) + " m";
  }

  private static String metres(double length) {
    return Units.fixed(length, 3) + " m";
  }
}
