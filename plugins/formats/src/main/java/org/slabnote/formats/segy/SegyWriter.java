package org.slabnote.formats.segy;

import java.nio.ByteBuffer;
import java.util.ArrayList;
import java.util.List;
import org.slabnote.api.quantity.Units;

/**
 * Writes a SEG-Y file of revision 2.0: big-endian, all traces of one length, the same bytes for the same
 * input.
 *
 * <p>The sample interval stands in the eight-byte field (bytes 3273-3280, microseconds), and in the
 * two-byte fields too where it is a whole number of microseconds; else these hold 0, which is "not
 * stated". Coordinates are metres in steps of 0.1 mm (scalar -10000); the midpoint of source and group
 * goes to CDP X and Y. The number of traces is stated, so that a file cut short anywhere is noticed. No
 * date and no time is written.
 *
 * @since 0.1
 */
public final class SegyWriter {
  /** Coordinates are divided by this when read: steps of 0.1 mm. */
  private static final int PARTS_OF_A_METRE = 10_000;

  private final List<String> text;
  private final SegyText.Encoding encoding;
  private final SegySample sample;
  private final double intervalMicroseconds;
  private final int samples;
  private final List<byte[]> traces = new ArrayList<>();

  /**
   * Starts a file.
   *
   * @param text the textual header: at most 40 lines of at most 80 printable ASCII characters
   * @param encoding how the text is stored
   * @param sample {@link SegySample#FLOAT32} or {@link SegySample#INT16}
   * @param intervalMicroseconds sample interval in microseconds, above 0
   * @param samples samples in each trace, at least 1
   * @throws IllegalArgumentException if one of these is not so
   */
  public SegyWriter(
      List<String> text,
      SegyText.Encoding encoding,
      SegySample sample,
      double intervalMicroseconds,
      int samples) {
    if (sample != SegySample.FLOAT32 && sample != SegySample.INT16) {
      throw new IllegalArgumentException("SEG-Y writer: sample format " + sample
          + "; expected FLOAT32 or INT16. Choose one of these");
    }
    if (!(intervalMicroseconds > 0) || Double.isInfinite(intervalMicroseconds)) {
      throw new IllegalArgumentException("SEG-Y writer: sample interval "
          + Units.plain(intervalMicroseconds, 9)
          + " us; expected a number above 0. State the interval");
    }
    if (samples < 1) {
      throw new IllegalArgumentException("SEG-Y writer: " + samples
          + " samples in a trace; expected at least 1. Leave empty traces out");
    }
    SegyText.encode(text, encoding); // refuses a bad text before traces are added
    this.text = List.copyOf(text);
    this.encoding = encoding;
    this.sample = sample;
    this.intervalMicroseconds = intervalMicroseconds;
    this.samples = samples;
  }

  /**
   * Where the two antennas stand for a trace, in metres.
   *
   * @since 0.1
   */
  public record Place(double sourceX, double sourceY, double groupX, double groupY) {}

  /**
   * Adds a trace.
   *
   * @param values one value per sample, finite; for {@code INT16} whole numbers from -32768 to 32767
   * @throws IllegalArgumentException if the number of values or a value is not so, or a coordinate is
   *     not finite or beyond 214 km
   */
  public SegyWriter add(double[] values, Place place) {
    int number = traces.size() + 1;
    if (values.length != samples) {
      throw new IllegalArgumentException("SEG-Y writer, trace " + number + ": " + values.length
          + " samples; expected " + samples + ", as stated for the file. Cut or pad the trace");
    }
    ByteBuffer out = ByteBuffer.allocate(SegyTrace.HEADER + samples * sample.bytes());
    header(out, number, place);
    for (int i = 0; i < samples; i++) {
      put(out, values[i], number, i);
    }
    traces.add(out.array());
    return this;
  }

  /** The whole file as it stands now. */
  public byte[] bytes() {
    int trace = SegyTrace.HEADER + samples * sample.bytes();
    ByteBuffer out = ByteBuffer.allocate(
        Math.addExact(SegyPreamble.HEADERS, Math.multiplyExact(trace, traces.size())));
    out.put(SegyText.encode(text, encoding));
    int small = samples <= 0xFFFF ? samples : 0;
    set(out, SegyField.LINE_NUMBER, 1);
    set(out, SegyField.REEL_NUMBER, 1);
    set(out, SegyField.INTERVAL, wholeMicroseconds());
    set(out, SegyField.SAMPLES, small);
    set(out, SegyField.FORMAT, sample.code());
    set(out, SegyField.ENSEMBLE_FOLD, 1);
    set(out, SegyField.SORTING, 1);
    set(out, SegyField.MEASUREMENT_SYSTEM, 1);
    set(out, SegyField.WIDE_SAMPLES, samples);
    out.putDouble(SegyField.WIDE_INTERVAL.position() - 1, intervalMicroseconds);
    set(out, SegyField.BYTE_ORDER, 0x01020304);
    set(out, SegyField.REVISION_MAJOR, 2);
    set(out, SegyField.FIXED_LENGTH, 1);
    set(out, SegyField.TRACES_IN_FILE, traces.size());
    set(out, SegyField.FIRST_TRACE_OFFSET, SegyPreamble.HEADERS);
    out.position(SegyPreamble.HEADERS);
    traces.forEach(out::put);
    return out.array();
  }

  private int wholeMicroseconds() {
    boolean whole =
        intervalMicroseconds <= 0xFFFF && intervalMicroseconds == Math.rint(intervalMicroseconds);
    return whole ? (int) intervalMicroseconds : 0;
  }

  private void header(ByteBuffer out, int number, Place place) {
    set(out, SegyField.TRACE_SEQUENCE_LINE, number);
    set(out, SegyField.TRACE_SEQUENCE_FILE, number);
    set(out, SegyField.FIELD_RECORD, 1);
    set(out, SegyField.TRACE_NUMBER, number);
    set(out, SegyField.ENSEMBLE, number);
    set(out, SegyField.TRACE_IN_ENSEMBLE, 1);
    set(out, SegyField.TRACE_IDENTIFICATION, 1);
    set(out, SegyField.COORDINATE_SCALAR, -PARTS_OF_A_METRE);
    set(out, SegyField.SOURCE_X, parts(place.sourceX(), number));
    set(out, SegyField.SOURCE_Y, parts(place.sourceY(), number));
    set(out, SegyField.GROUP_X, parts(place.groupX(), number));
    set(out, SegyField.GROUP_Y, parts(place.groupY(), number));
    set(out, SegyField.COORDINATE_UNITS, 1);
    set(out, SegyField.TRACE_SAMPLES, samples <= 0xFFFF ? samples : 0);
    set(out, SegyField.TRACE_INTERVAL, wholeMicroseconds());
    set(out, SegyField.CDP_X, parts((place.sourceX() + place.groupX()) / 2, number));
    set(out, SegyField.CDP_Y, parts((place.sourceY() + place.groupY()) / 2, number));
    byte[] name = SegyText.encode(List.of("SEG00000"), encoding);
    out.put(SegyTrace.HEADER - 8, name, 0, 8).position(SegyTrace.HEADER);
  }

  private static int parts(double metres, int number) {
    double parts = Math.rint(metres * PARTS_OF_A_METRE);
    if (!(Math.abs(parts) <= Integer.MAX_VALUE)) {
      throw new IllegalArgumentException("SEG-Y writer, trace " + number + ": coordinate "
          + Units.plain(metres, 9)
          + " m; expected a number within 214 km. Use the slab frame");
    }
    return (int) parts;
  }

  private void put(ByteBuffer out, double value, int number, int index) {
    boolean fits = sample == SegySample.INT16
        ? value == Math.rint(value) && value >= Short.MIN_VALUE && value <= Short.MAX_VALUE
        : Float.isFinite((float) value);
    if (!fits) {
      throw new IllegalArgumentException("SEG-Y writer, trace " + number + ", sample " + (index + 1)
          + ": " + Units.plain(value, 9) + "; expected "
          + (sample == SegySample.INT16
              ? "a whole number from -32768 to 32767. Scale and round, or write FLOAT32"
              : "a finite number that a four-byte float holds. Scale, or repair the trace"));
    }
    if (sample == SegySample.INT16) {
      out.putShort((short) value);
    } else {
      out.putFloat((float) value);
    }
  }

  private static void set(ByteBuffer out, SegyField field, long value) {
    int at = field.position() - 1;
    switch (field.type()) {
      case UINT8 -> out.put(at, (byte) value);
      case INT16, UINT16 -> out.putShort(at, (short) value);
      case INT32, UINT32 -> out.putInt(at, (int) value);
      case UINT64 -> out.putLong(at, value);
      case FLOAT64 -> out.putDouble(at, value);
    }
  }
}
