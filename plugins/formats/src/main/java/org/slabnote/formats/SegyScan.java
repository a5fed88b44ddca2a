package org.slabnote.formats;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.slabnote.api.Scan;
import org.slabnote.api.quantity.Units;
import org.slabnote.formats.segy.SegySample;
import org.slabnote.formats.segy.SegyText;
import org.slabnote.formats.segy.SegyWriter;

/**
 * A scan as SEG-Y revision 2.0, big-endian IEEE floats, textual header in EBCDIC.
 *
 * <p>Source and group stand half the antenna separation behind and ahead of the midpoint in the direction
 * of travel (first to last trace; +x where these coincide). The interval goes to the eight-byte field in
 * microseconds. Time zero, balance, dipole angles and history have no field in SEG-Y and stay in the
 * survey table; a time axis that does not start at 0 is refused, as no field holds it in nanoseconds.
 */
final class SegyScan {
  private static final int OWN_LINES = 8;
  private static final int MOST_LINES = 30;
  private static final int LINE = 76;

  private SegyScan() {}

  static byte[] bytes(Scan scan, List<String> text) {
    if (scan.axis().start().value() != 0) {
      throw new IllegalArgumentException("scan " + scan.pass() + ": its first sample is at "
          + Units.plain(scan.axis().start().value(), 6)
          + " ns; expected 0 ns, as SEG-Y has no field for it. Resample it from 0 ns");
    }
    SegyWriter writer = new SegyWriter(
        lines(scan, text),
        SegyText.Encoding.EBCDIC,
        SegySample.FLOAT32,
        scan.interval().value() / 1000,
        scan.axis().count());
    double direction = scan.track().direction().value() / 180 * StrictMath.PI;
    double half = scan.antenna().separation().value() / 2;
    double dx = half * StrictMath.cos(direction);
    double dy = half * StrictMath.sin(direction);
    double[] samples = new double[scan.axis().count()];
    for (int i = 0; i < scan.traces(); i++) {
      for (int j = 0; j < samples.length; j++) {
        samples[j] = scan.sample(i, j);
      }
      double x = scan.track().x().get(i);
      double y = scan.track().y().get(i);
      writer.add(samples, new SegyWriter.Place(x - dx, y - dy, x + dx, y + dy));
    }
    return writer.bytes();
  }

  private static List<String> lines(Scan scan, List<String> text) {
    if (text.size() > MOST_LINES) {
      throw new IllegalArgumentException("SEG-Y textual header: " + text.size()
          + " lines; expected at most " + MOST_LINES + ". Shorten the text");
    }
    List<String> bare = new ArrayList<>(List.of(
        "Radar scan of a concrete element",
        plain("Pass " + scan.pass() + ", channel " + scan.channel()),
        "Sample interval " + Units.plain(scan.interval().value(), 9)
            + " ns (bytes 3273-3280, in microseconds)",
        "Antenna separation " + Units.plain(scan.antenna().separation().inMillimetres(), 6)
            + " mm, centre frequency " + Units.plain(scan.antenna().centre().value(), 6) + " MHz",
        "Dipoles " + Units.plain(scan.antenna().transmitter().value(), 4) + " and "
            + Units.plain(scan.antenna().receiver().value(), 4)
            + " degrees from the direction of travel",
        "Coordinates in metres in the frame of the slab: x to the right, y down",
        "Source and group: feed points of the antennas; CDP: their midpoint",
        ""));
    bare.addAll(text);
    List<String> lines = new ArrayList<>();
    for (int i = 0; i < OWN_LINES + MOST_LINES; i++) {
      String line = i < bare.size() ? bare.get(i) : "";
      if (line.length() > LINE) {
        throw new IllegalArgumentException("SEG-Y textual header: '" + line + "' has "
            + line.length() + " characters; expected at most " + LINE + ". Shorten the line");
      }
      lines.add(String.format(Locale.ROOT, "C%2d %s", i + 1, line).stripTrailing());
    }
    lines.add("C39 SEG-Y_REV2.0");
    lines.add("C40 END TEXTUAL HEADER");
    return lines;
  }

  /** Names may hold any character and any length; the header holds 76 of printable ASCII. */
  private static String plain(String text) {
    String ascii = text.replaceAll("[^ -~]", "?");
    return ascii.length() > LINE ? ascii.substring(0, LINE) : ascii;
  }
}
