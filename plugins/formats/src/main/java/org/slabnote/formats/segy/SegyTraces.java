package org.slabnote.formats.segy;

import java.util.Arrays;
import java.util.List;
import java.util.OptionalLong;
import org.slabnote.api.ScanFileException;

/** Where each trace of a file starts and how many samples it has. */
final class SegyTraces {
  private static final int HEADER = SegyTrace.HEADER;
  private static final String NAME_EBCDIC = "\u00e2\u00c5\u00c7\u00f0\u00f0\u00f0\u00f0\u00f1";
  private static final String NAME_ASCII = "SEG00001";

  private final SegyPreamble file;
  private final SegyBytes bytes;
  private final long end;
  private final int trailerRecords;
  private final long declared;
  private final boolean fixed;
  private final long common;
  private long[] offsets = new long[16];
  private int[] headers = new int[16];
  private int[] counts = new int[16];
  private int count;

  private SegyTraces(SegyPreamble file) {
    this.file = file;
    this.bytes = file.bytes();
    this.declared = declaredCount(file);
    this.trailerRecords = trailerRecords(file);
    this.end = bytes.length() - (long) trailerRecords * SegyText.SIZE;
    this.common = commonCount(file);
    this.fixed = file.revision().isAtLeast(1, 0)
        && file.header().get(SegyField.FIXED_LENGTH) == 1
        && common != 0;
  }

  static SegyTraces of(SegyPreamble file) {
    SegyTraces traces = new SegyTraces(file);
    traces.find();
    return traces;
  }

  int count() {
    return count;
  }

  SegyTrace trace(int index) {
    if (index < 0 || index >= count) {
      throw new IndexOutOfBoundsException(
          "SEG-Y trace index " + index + "; expected 0 to " + (count - 1));
    }
    return new SegyTrace(
        bytes, file.sample(), index, offsets[index], headers[index], counts[index]);
  }

  OptionalLong commonSampleCount() {
    boolean same = count > 0 && Arrays.stream(counts, 0, count).allMatch(n -> n == counts[0]);
    return same ? OptionalLong.of(counts[0]) : OptionalLong.empty();
  }

  List<SegyStanza> trailer() {
    return SegyStanzas.in(bytes, end, trailerRecords);
  }

  /** Whether the 240 bytes from an offset are the extension whose layout the standard gives. */
  static boolean isStandardExtension(SegyBytes bytes, long offset) {
    for (int i = 0; i < NAME_ASCII.length(); i++) {
      int one = bytes.u8(offset + 232 + i);
      if (one != NAME_ASCII.charAt(i) && one != NAME_EBCDIC.charAt(i)) {
        return false;
      }
    }
    return true;
  }

  private static long declaredCount(SegyPreamble file) {
    long declared =
        file.revision().isAtLeast(2, 0) ? file.header().get(SegyField.TRACES_IN_FILE) : 0;
    long most = (file.bytes().length() - file.firstTrace()) / HEADER;
    if (declared < 0 || declared > most) {
      String value = Long.toUnsignedString(declared);
      throw SegyPreamble.fault(
          file.name(),
          SegyField.TRACES_IN_FILE,
          "the header says " + value + " traces; after the headers the file has room for " + most
              + " at most",
          "Either the file is cut short or this number is wrong: copy it again from its source, or"
              + " correct the header");
    }
    return declared;
  }

  private static int trailerRecords(SegyPreamble file) {
    int stated =
        file.revision().isAtLeast(2, 0) ? (int) file.header().get(SegyField.TRAILER_RECORDS) : 0;
    long most = (file.bytes().length() - file.firstTrace()) / SegyText.SIZE;
    if (stated < -1 || stated > most) {
      throw SegyPreamble.fault(
          file.name(),
          SegyField.TRAILER_RECORDS,
          "the header says " + stated
              + " trailer records of 3200 bytes; expected -1 (not known) to " + most
              + " (the room after the headers)",
          "Either the file is cut short or this number is wrong: copy it again from its source, or"
              + " correct the header");
    }
    return stated == -1 ? openTrailerRecords(file, most) : stated;
  }

  /** The longest run of records at the file's end that are text and begin with a stanza. */
  private static int openTrailerRecords(SegyPreamble file, long most) {
    SegyBytes bytes = file.bytes();
    int found = 0;
    for (int n = 1; n <= most; n++) {
      long offset = bytes.length() - (long) n * SegyText.SIZE;
      if (SegyStanzas.name(bytes, offset).isPresent()) {
        found = n;
      } else if (!SegyText.looksLikeText(bytes.copy(offset, SegyText.SIZE))) {
        break;
      }
    }
    return found;
  }

  /** Samples per trace as the binary header says; 0 where it does not. */
  private static long commonCount(SegyPreamble file) {
    if (file.revision().isAtLeast(2, 0)) {
      long wide = file.header().get(SegyField.WIDE_SAMPLES);
      if (wide != 0) {
        return wide;
      }
    }
    return file.header().get(SegyField.SAMPLES);
  }

  private String commonField() {
    boolean wide =
        file.revision().isAtLeast(2, 0) && file.header().get(SegyField.WIDE_SAMPLES) != 0;
    return (wide ? SegyField.WIDE_SAMPLES : SegyField.SAMPLES).where();
  }

  private void find() {
    if (!fixed && staleOwnCounts()) {
      walk(true);
    } else {
      walk(fixed);
    }
    checkEnd();
    if (fixed) {
      checkOwnCounts();
    } else if (common != 0 && count > 1 && commonSampleCount().orElse(common) != common) {
      file.remark(
          "Each trace header states " + counts[0] + " samples (bytes 115-116), the binary header "
              + common + " (" + commonField()
              + "), without the fixed-length flag; the traces' own count was"
              + " read, which fits the file's length");
    }
  }

  private void walk(boolean byFile) {
    long offset = file.firstTrace();
    while (offset < end && (declared == 0 || count < declared)) {
      offset = add(offset, byFile);
    }
  }

  private long add(long offset, boolean byFile) {
    int number = count + 1;
    Place place = Place.of(file.name()).inTrace(number, offset);
    if (end - offset < HEADER) {
      throw place.fault(
          "240 bytes of trace header expected, the " + ending() + " after " + (end - offset),
          "The file is cut short, or a count before this place is wrong: copy it again from its source");
    }
    int blocks = blocks(place, offset);
    long samples = samples(offset, blocks, byFile);
    if (samples == 0) {
      throw place.fault(
          "no sample count: trace header bytes 115-116 and binary header bytes 3221-3222 are 0;"
              + " expected at least 1 in one of them",
          "Correct the header, or write the file again");
    }
    long data = offset + (long) blocks * HEADER;
    long room = (end - data) / file.sample().bytes();
    if (samples > room) {
      throw tooShort(place, offset, blocks, samples, room, byFile);
    }
    record(offset, blocks, (int) samples);
    return data + samples * file.sample().bytes();
  }

  private int blocks(Place place, long offset) {
    int blocks = 1 + file.additionalHeaders();
    long most = (end - offset) / HEADER;
    if (blocks > 1 && most > 1 && isStandardExtension(bytes, offset + HEADER)) {
      int own =
          new SegyHeader(bytes, offset + HEADER, 1, HEADER).uint16(SegyField.X_BLOCKS.position());
      blocks = own == 0 ? blocks : 1 + own;
    }
    if (blocks > most) {
      throw place.fault(
          (blocks - 1) + " additional trace headers of 240 bytes expected ("
              + SegyField.ADDITIONAL_TRACE_HEADERS.where() + "), the " + ending() + " after "
              + Math.max(0, most - 1),
          "The file is cut short, or this number is wrong: copy it again from its source");
    }
    return blocks;
  }

  private long samples(long offset, int blocks, boolean byFile) {
    long own = byFile ? 0 : ownCount(offset, blocks);
    return own == 0 ? common : own;
  }

  private long ownCount(long offset, int blocks) {
    if (blocks > 1 && isStandardExtension(bytes, offset + HEADER)) {
      long wide = bytes.u32(offset + HEADER + SegyField.X_SAMPLES.position() - 1);
      if (wide != 0) {
        return wide;
      }
    }
    return bytes.u16(offset + SegyField.TRACE_SAMPLES.position() - 1);
  }

  private ScanFileException tooShort(
      Place place, long offset, int blocks, long samples, long room, boolean byFile) {
    long own = ownCount(offset, blocks);
    boolean fromFile = byFile || own == 0;
    String field = fromFile ? commonField() : SegyField.TRACE_SAMPLES.where();
    long other = fromFile ? own : common;
    String against = other == 0 || other == samples
        ? ""
        : "; " + (fromFile ? SegyField.TRACE_SAMPLES.where() : commonField()) + " say " + other;
    String remedy = other == samples
        ? "The file is cut short: copy it again from its source"
        : "Either the file is cut short or "
            + (against.isEmpty() ? "this count" : "one of these counts")
            + " is wrong: copy it again from its source, or correct the header";
    return place.fault(
        samples + " samples expected (" + field + against + "), the " + ending() + " after " + room,
        remedy);
  }

  private String ending() {
    return trailerRecords == 0 ? "file ends" : "trailer begins";
  }

  private void record(long offset, int blocks, int samples) {
    if (count == offsets.length) {
      offsets = Arrays.copyOf(offsets, 2 * count);
      headers = Arrays.copyOf(headers, 2 * count);
      counts = Arrays.copyOf(counts, 2 * count);
    }
    offsets[count] = offset;
    headers[count] = blocks;
    counts[count] = samples;
    count++;
  }

  private void checkEnd() {
    if (count < declared) {
      throw SegyPreamble.fault(
          file.name(),
          SegyField.TRACES_IN_FILE,
          "the header says " + declared + " traces; the " + ending() + " after " + count,
          "Either the file is cut short or this number is wrong: copy it again from its source, or"
              + " correct the header");
    }
    long last = count == 0
        ? file.firstTrace()
        : offsets[count - 1]
            + (long) headers[count - 1] * HEADER
            + (long) counts[count - 1] * file.sample().bytes();
    if (last != end) {
      throw Place.of(file.name())
          .atByte(last)
          .fault(
              "the header says " + declared + " traces (" + SegyField.TRACES_IN_FILE.where()
                  + "), which end here; " + (end - last) + " bytes follow",
              "Correct the number of traces or of trailer records in the header, or write the file again");
    }
  }

  /**
   * The fixed-length flag says that all traces have the count of the binary header. Trace headers may
   * hold another one left over from an earlier file, but then all the same; where they differ among
   * themselves, flag and headers contradict each other.
   */
  private void checkOwnCounts() {
    long stale = 0;
    for (int i = 0; i < count; i++) {
      long own = ownCount(offsets[i], headers[i]);
      if (own == 0 || own == common && stale == 0) {
        continue;
      }
      if (stale == 0 && i == 0) {
        stale = own;
      } else if (own != stale) {
        throw Place.of(file.name())
            .inTrace(i + 1, offsets[i])
            .fault(
                own + " samples by " + SegyField.TRACE_SAMPLES.where() + ", " + common + " by "
                    + commonField() + ", which hold for each trace by the fixed-length flag (bytes"
                    + " 3503-3504); expected the same",
                "Correct the header, or write the file again");
      }
    }
    if (stale != 0) {
      refuseIfStaleCountFits(stale);
      file.remark("Each trace header states " + stale
          + " samples (bytes 115-116), the binary header "
          + common + " for all (fixed-length flag set); " + common + " were read, which fits the"
          + " file's length");
    }
  }

  /** Two counts that both fit the file's length leave no way to tell. */
  private void refuseIfStaleCountFits(long stale) {
    long length = (long) headers[0] * HEADER + stale * file.sample().bytes();
    if ((end - file.firstTrace()) % length == 0) {
      throw SegyPreamble.fault(
          file.name(),
          SegyField.SAMPLES,
          common + " samples in each trace, but the trace headers say " + stale
              + " (bytes 115-116), and both fit the file's length",
          "Correct the wrong one of the two in the header");
    }
  }

  /**
   * Whether the traces' own counts are left over from an earlier file: all the same, leading nowhere,
   * while the binary header's count leads to the file's end over at least two traces.
   */
  private boolean staleOwnCounts() {
    int blocks = 1 + file.additionalHeaders();
    long length = (long) blocks * HEADER + common * file.sample().bytes();
    long start = file.firstTrace();
    if (common == 0 || (end - start) % length != 0 || (end - start) / length < 2) {
      return false;
    }
    long stale = ownCount(start, blocks);
    long own = (long) blocks * HEADER + stale * file.sample().bytes();
    if (stale == 0 || stale == common || (end - start) % own == 0) {
      return false;
    }
    for (long offset = start; offset < end; offset += length) {
      if (ownCount(offset, blocks) != stale) {
        return false;
      }
    }
    file.remark(
        "Each trace header states " + stale + " samples (bytes 115-116), which does not fit the"
            + " file's length; the binary header's " + common + " were read, which does");
    return true;
  }
}
