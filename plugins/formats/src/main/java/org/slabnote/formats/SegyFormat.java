package org.slabnote.formats;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.slabnote.api.Samples;
import org.slabnote.api.Scan;
import org.slabnote.api.ScanFileException;
import org.slabnote.api.ScanFormat;
import org.slabnote.api.SurveyRow;
import org.slabnote.api.TimeAxis;
import org.slabnote.api.quantity.TimeSpan;
import org.slabnote.api.quantity.Units;
import org.slabnote.formats.segy.SegyFile;
import org.slabnote.formats.segy.SegyTrace;

/**
 * Scans from SEG-Y files, revisions 0 to 2.1.
 *
 * <p>The survey row states the sample interval, the antenna and where the pass starts and ends. What the
 * file states of these must not contradict it; see {@link IntervalCheck} and {@link PositionCheck} for the
 * rules. Samples are rounded to {@code float}, ties to even; NaN, infinity and what a {@code float} cannot
 * hold are refused with trace, sample and byte.
 *
 * <p>Optional columns of the survey table:
 *
 * <ul>
 *   <li>{@code ragged}: what to do where traces differ in length: {@code cut} all to the shortest, or
 *       {@code pad} with zeros to the longest. Without it such a file is refused.
 *   <li>{@code header_positions}: {@code ignore} where the coordinates in the trace headers are known to
 *       be wrong; {@code check} is the rule.
 * </ul>
 *
 * @since 0.1
 */
public final class SegyFormat implements ScanFormat {
  /** Samples of a padded scan: a file of one long and many short traces must not be blown up. */
  private static final int MOST_PADDED = 64_000_000;

  /** Makes the format; it has no state. */
  public SegyFormat() {}

  @Override
  public String id() {
    return "formats.segy";
  }

  @Override
  public int revision() {
    return 1;
  }

  @Override
  public boolean recognises(String file, byte[] head) {
    String name = file.toLowerCase(Locale.ROOT);
    return name.endsWith(".sgy") || name.endsWith(".segy") || SegyFile.looksLikeSegy(head);
  }

  @Override
  public Scan read(byte[] bytes, SurveyRow row) {
    return read(bytes, row, new ArrayList<>());
  }

  /**
   * What the file left open or contradicted and how it was read, one sentence each: how the interval
   * field was read, which counts were taken, header coordinates in another frame, dead traces.
   *
   * @throws ScanFileException as {@link #read(byte[], SurveyRow)} does
   */
  @Override
  public List<String> remarks(byte[] bytes, SurveyRow row) {
    List<String> remarks = new ArrayList<>();
    read(bytes, row, remarks);
    return List.copyOf(remarks);
  }

  private static Scan read(byte[] bytes, SurveyRow row, List<String> remarks) {
    SegyFile file = SegyFile.of(row.file(), bytes);
    if (file.traceCount() == 0) {
      throw new ScanFileException(
          row.file(),
          "byte " + bytes.length,
          "the file ends after its headers; expected at least one trace. Copy it again from its source");
    }
    remarks.addAll(file.remarks());
    IntervalCheck.of(file, row, remarks);
    int count = sampleCount(file, row, remarks);
    float[][] traces = new float[file.traceCount()][];
    for (int i = 0; i < traces.length; i++) {
      traces[i] = samples(file.name(), file.trace(i), count);
    }
    PositionCheck.of(file, row, remarks);
    TraceRemarks.of(file, remarks);
    return new Scan(
        row.pass(),
        row.channel(),
        row.antenna(),
        new TimeAxis(new TimeSpan(0), row.interval(), count),
        row.track(traces.length),
        Samples.ofTraces(traces),
        row.surface(),
        row.balance(),
        List.of());
  }

  private static int sampleCount(SegyFile file, SurveyRow row, List<String> remarks) {
    int shortest = Integer.MAX_VALUE;
    int longest = 0;
    int first = 0;
    for (int i = 0; i < file.traceCount(); i++) {
      int n = file.trace(i).sampleCount();
      shortest = Math.min(shortest, n);
      longest = Math.max(longest, n);
      if (first == 0 && n != file.trace(0).sampleCount()) {
        first = i;
      }
    }
    String ragged = row.extra().getOrDefault("ragged", "").strip();
    if (!ragged.isEmpty() && !ragged.equals("cut") && !ragged.equals("pad")) {
      throw RowFault.of(
          file,
          "",
          RowFault.name(row) + " says ragged = " + ragged
              + "; expected cut, pad or nothing. Correct survey.csv");
    }
    if (shortest == longest) {
      return longest;
    }
    if (ragged.isEmpty()) {
      SegyTrace odd = file.trace(first);
      throw new ScanFileException(
          file.name(),
          "trace " + odd.number() + " at byte " + odd.byteOffset(),
          odd.sampleCount() + " samples, trace 1 has " + file.trace(0).sampleCount()
              + "; expected as many in each trace. Export the file again, or state cut or pad in the"
              + " column ragged of survey.csv");
    }
    boolean cut = ragged.equals("cut");
    int count = cut ? shortest : longest;
    if ((long) count * file.traceCount() > MOST_PADDED) {
      throw RowFault.of(
          file,
          "",
          file.traceCount() + " traces padded to " + count
              + " samples are too many. State cut in the column ragged of survey.csv, or split the file");
    }
    remarks.add("Traces have " + shortest + " to " + longest + " samples; "
        + (cut ? "all were cut to the shortest" : "all were padded with zeros to the longest")
        + ", as survey.csv says");
    return count;
  }

  private static float[] samples(String name, SegyTrace trace, int count) {
    double[] exact = trace.samples();
    float[] rounded = new float[count];
    for (int j = 0; j < Math.min(count, exact.length); j++) {
      rounded[j] = (float) exact[j];
      if (!Float.isFinite(rounded[j])) {
        String value = Double.isNaN(exact[j])
            ? "NaN"
            : Double.isInfinite(exact[j])
                ? (exact[j] > 0 ? "infinity" : "-infinity")
                : Units.plain(exact[j], 9) + ", beyond a four-byte float";
        throw new ScanFileException(
            name,
            "trace " + trace.number() + ", sample " + (j + 1) + " at byte " + trace.byteOffset(j),
            value + "; expected a finite number. Export the file again, or mend the trace before it"
                + " is read");
      }
    }
    return rounded;
  }

  /**
   * Writes a scan as SEG-Y revision 2.0, IEEE floats, the same bytes for the same scan; see {@link
   * SegyScan}.
   *
   * @param scan the scan
   * @param text lines of the textual header after those that say pass, channel and units: at most 30
   *     lines of at most 76 characters of printable ASCII
   * @throws IllegalArgumentException if a line is too long or there are too many
   */
  public static byte[] write(Scan scan, List<String> text) {
    return SegyScan.bytes(scan, text);
  }

  /** The value of an optional column, where it is stated. */
  static Optional<String> column(SurveyRow row, String name) {
    return Optional.ofNullable(row.extra().get(name))
        .map(String::strip)
        .filter(value -> !value.isEmpty());
  }
}
