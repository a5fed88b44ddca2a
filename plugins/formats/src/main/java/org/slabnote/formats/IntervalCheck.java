package org.slabnote.formats;

import java.util.List;
import org.jspecify.annotations.Nullable;
import org.slabnote.api.SurveyRow;
import org.slabnote.api.quantity.Units;
import org.slabnote.formats.segy.SegyField;
import org.slabnote.formats.segy.SegyFile;
import org.slabnote.formats.segy.SegyHeader;
import org.slabnote.formats.segy.SegyTrace;

/**
 * Holds the sample interval that a file states against the one that the survey table states.
 *
 * <p>The standard puts microseconds in the interval fields, radar practice picoseconds in the two-byte
 * ones; the file never says which (common practice, no source). The survey's interval decides: a field
 * agrees when its number, read as picoseconds or as microseconds, lies within rounding of it, and all
 * fields of a file must agree in the same reading. Rounding is half a unit of a two-byte field, and one in
 * a thousand everywhere, since the survey table is typed by hand. A field of 0 states nothing.
 *
 * <p>Fields: the eight-byte field of the binary header where it is not 0 (revision 2), else the two-byte
 * one; and each trace's own: of its extension, else its two-byte one unless the eight-byte field of the
 * binary header overrides it.
 */
final class IntervalCheck {
  private static final double TYPED = 1e-3;
  private static final double ROUNDING_SLACK =
      1e-9; // of the half unit: 0.0205 ns - 20 ps is not exact

  private enum Reading {
    PICOSECONDS("picoseconds"),
    MICROSECONDS("microseconds");

    private final String unit;

    Reading(String unit) {
      this.unit = unit;
    }

    double nanoseconds(double number) {
      return this == PICOSECONDS ? number / 1000 : number * 1000;
    }
  }

  private final SegyFile file;
  private final SurveyRow row;
  private @Nullable Reading reading;

  private IntervalCheck(SegyFile file, SurveyRow row) {
    this.file = file;
    this.row = row;
  }

  static void of(SegyFile file, SurveyRow row, List<String> remarks) {
    IntervalCheck check = new IntervalCheck(file, row);
    double common = check.binaryHeader();
    for (int i = 0; i < file.traceCount(); i++) {
      check.trace(file.trace(i), common);
    }
    String interval = Units.plain(row.interval().value(), 6) + " ns";
    remarks.add(
        check.reading == null
            ? "The file states no sample interval; " + interval + " is the survey table's"
            : "The sample interval in the file, read as " + check.reading.unit
                + ", agrees with the survey" + " table's " + interval);
  }

  /** Checks the binary header and returns its eight-byte field, 0 where it states nothing. */
  private double binaryHeader() {
    double wide = file.revision().major() >= 2 ? file.header().getReal(SegyField.WIDE_INTERVAL) : 0;
    if (wide != 0) {
      check("", SegyField.WIDE_INTERVAL, wide);
    } else {
      check("", SegyField.INTERVAL, file.header().get(SegyField.INTERVAL));
    }
    return wide;
  }

  private void trace(SegyTrace trace, double common) {
    String place = "trace " + trace.number() + " at byte " + trace.byteOffset();
    double wide = trace
        .standardExtension()
        .map((SegyHeader extension) -> extension.getReal(SegyField.X_INTERVAL))
        .orElse(0.0);
    if (wide != 0) {
      check(place, SegyField.X_INTERVAL, wide);
    } else if (common == 0) {
      check(place, SegyField.TRACE_INTERVAL, trace.header().get(SegyField.TRACE_INTERVAL));
    }
  }

  private void check(String place, SegyField field, double number) {
    if (number == 0) {
      return;
    }
    Reading fits = fitting(field, number);
    if (fits == null) {
      throw RowFault.of(
          file,
          place,
          "the sample interval field holds " + Units.plain(number, 9)
              + " (" + field.where() + "; as picoseconds " + ns(Reading.PICOSECONDS, number)
              + ", as microseconds " + ns(Reading.MICROSECONDS, number)
              + "), but " + RowFault.name(row)
              + " says sample_interval_ns = " + Units.plain(row.interval().value(), 9)
              + ". State the right one in survey.csv; nothing was read");
    }
    if (reading != null && reading != fits) {
      throw RowFault.of(
          file,
          place,
          "the sample interval field holds " + Units.plain(number, 9)
              + " (" + field.where() + "), which agrees with " + RowFault.name(row) + " in "
              + fits.unit
              + ", while a field before it does in " + reading.unit
              + "; expected one unit in the whole file. Write the file again; nothing was read");
    }
    reading = fits;
  }

  private @Nullable Reading fitting(SegyField field, double number) {
    double stated = row.interval().value();
    for (Reading one : Reading.values()) {
      double unit = field.type() == SegyField.Type.FLOAT64 ? 0 : one.nanoseconds(1);
      double slack = Math.max(unit / 2 * (1 + ROUNDING_SLACK), TYPED * stated);
      if (number > 0 && Math.abs(one.nanoseconds(number) - stated) <= slack) {
        return one;
      }
    }
    return null;
  }

  private static String ns(Reading reading, double number) {
    return Units.plain(reading.nanoseconds(number), 6) + " ns";
  }
}
