package org.slabnote.formats.segy;

import java.nio.ByteOrder;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;
import org.slabnote.api.ScanFileException;

/**
 * Everything before the first trace: byte order, revision, sample format, texts.
 *
 * @param name what messages call the file
 * @param bytes the file in its byte order
 * @param textRecords extended textual headers, 3200 bytes each
 * @param firstTrace offset of the first trace
 * @param remarks grows while the file is read
 */
record SegyPreamble(
    String name,
    SegyBytes bytes,
    SegyHeader header,
    SegyRevision revision,
    SegySample sample,
    int textRecords,
    long firstTrace,
    List<String> remarks) {
  static final int HEADERS = 3600;
  private static final int TEXT = SegyText.SIZE;
  private static final int BIG = 0x01020304;
  private static final int LITTLE = 0x04030201;
  private static final int PAIRS_SWAPPED = 0x02010403;
  private static final String CUT = "The file is cut short: copy it again from its source";

  static SegyPreamble of(String name, SegyBytes raw) {
    checkLength(name, raw.length());
    List<String> remarks = new ArrayList<>();
    SegyBytes bytes = raw.in(byteOrder(name, raw));
    SegyHeader header = new SegyHeader(bytes, TEXT, TEXT + 1, HEADERS - TEXT);
    SegySample sample = sample(name, header);
    SegyRevision revision = revision(header, remarks);
    int records = textRecords(name, bytes, header, revision, remarks);
    long first = firstTrace(name, bytes, header, revision, records);
    return new SegyPreamble(name, bytes, header, revision, sample, records, first, remarks);
  }

  static boolean looksLikeSegy(SegyBytes big) {
    if (big.length() < HEADERS) {
      return false;
    }
    long format = SegyField.FORMAT.position() - 1L;
    boolean known = SegySample.of(big.u16(format)).isPresent()
        || SegySample.of(big.in(ByteOrder.LITTLE_ENDIAN).u16(format)).isPresent();
    return known && SegyText.looksLikeText(big.copy(0, TEXT));
  }

  SegyText text() {
    return SegyText.of(bytes.copy(0, TEXT));
  }

  List<SegyText> extendedTexts() {
    return IntStream.range(0, textRecords)
        .mapToObj(i -> SegyText.of(bytes.copy(HEADERS + (long) i * TEXT, TEXT)))
        .toList();
  }

  List<SegyStanza> stanzas() {
    return SegyStanzas.in(bytes, HEADERS, textRecords);
  }

  @Override
  public List<String> remarks() {
    return List.copyOf(remarks);
  }

  void remark(String sentence) {
    remarks.add(sentence);
  }

  /** Bytes of each trace's header with the extensions that the file header announces. */
  int additionalHeaders() {
    if (!revision.isAtLeast(2, 0)) {
      return 0;
    }
    if (!revision.isAtLeast(2, 1)) {
      long wide = header.uint32(SegyField.ADDITIONAL_TRACE_HEADERS.position());
      if (wide <= 0xFFFF) {
        return (int) wide;
      }
    }
    return (int) header.get(SegyField.ADDITIONAL_TRACE_HEADERS);
  }

  private static void checkLength(String name, long length) {
    if (length == 0) {
      throw Place.of(name)
          .fault(
              "the file is empty; a SEG-Y file starts with 3600 bytes of headers",
              "Copy it again from its source");
    }
    if (length < HEADERS) {
      throw Place.of(name)
          .fault(
              "the file ends after " + length
                  + " bytes; a SEG-Y file starts with 3600 bytes of headers",
              "It is cut short or no SEG-Y file: copy it again from its source");
    }
  }

  private static ByteOrder byteOrder(String name, SegyBytes big) {
    int constant = big.i32(SegyField.BYTE_ORDER.position() - 1);
    if (constant == PAIRS_SWAPPED) {
      throw fault(
          name,
          SegyField.BYTE_ORDER,
          "the byte-order constant says that bytes are swapped in pairs",
          "Such files are not read: write it again in big-endian or little-endian order");
    }
    if (constant == BIG || constant == LITTLE) {
      return constant == BIG ? ByteOrder.BIG_ENDIAN : ByteOrder.LITTLE_ENDIAN;
    }
    // Without the constant the format code tells: a number under 256 in one order is above 255 in
    // the other.
    int code = big.in(ByteOrder.LITTLE_ENDIAN).u16(SegyField.FORMAT.position() - 1);
    return code >= 1 && code <= 0xFF ? ByteOrder.LITTLE_ENDIAN : ByteOrder.BIG_ENDIAN;
  }

  private static SegySample sample(String name, SegyHeader header) {
    int code = (int) header.get(SegyField.FORMAT);
    return SegySample.of(code)
        .orElseThrow(() -> fault(
            name,
            SegyField.FORMAT,
            "the sample format code is " + code + "; expected one of " + SegySample.codes(),
            "Perhaps this is no SEG-Y file; else write it again in one of these formats"));
  }

  private static SegyRevision revision(SegyHeader header, List<String> remarks) {
    int major = (int) header.get(SegyField.REVISION_MAJOR);
    int minor = (int) header.get(SegyField.REVISION_MINOR);
    if (major == 0 && (minor == 1 || minor == 2)) {
      // Revision 1 has one two-byte number here, which a little-endian file turns round.
      return new SegyRevision(minor, 0);
    }
    if (major <= 2 && minor <= 9) {
      return new SegyRevision(major, minor);
    }
    remarks.add("Binary header bytes 3501-3502 hold " + major + ", " + minor
        + ", which is no revision; read as revision 0, which leaves these bytes free");
    return new SegyRevision(0, 0);
  }

  private static int textRecords(
      String name,
      SegyBytes bytes,
      SegyHeader header,
      SegyRevision revision,
      List<String> remarks) {
    int stated = (int) header.get(SegyField.EXTENDED_TEXT_HEADERS);
    if (!revision.isAtLeast(1, 0)) {
      return freeTextRecords(bytes, stated, remarks);
    }
    if (stated < -1) {
      throw fault(
          name,
          SegyField.EXTENDED_TEXT_HEADERS,
          "the number of extended textual headers is " + stated
              + "; expected -1 (not known) or more",
          "Correct the header, or write the file again");
    }
    if (stated == -1) {
      return openTextRecords(name, bytes);
    }
    if (HEADERS + (long) stated * TEXT > bytes.length()) {
      throw fault(
          name,
          SegyField.EXTENDED_TEXT_HEADERS,
          stated + " extended textual headers end at byte " + (HEADERS + (long) stated * TEXT)
              + "; the file ends at byte " + bytes.length(),
          "Either the file is cut short or this number is wrong: copy it again from its source, or"
              + " correct the header");
    }
    return stated;
  }

  /** Revision 0 leaves the field free, yet files use it: taken only where text really follows. */
  private static int freeTextRecords(SegyBytes bytes, int stated, List<String> remarks) {
    if (stated == 0) {
      return 0;
    }
    boolean text = stated > 0 && HEADERS + (long) stated * TEXT <= bytes.length();
    for (int i = 0; text && i < stated; i++) {
      long offset = HEADERS + (long) i * TEXT;
      text = SegyStanzas.name(bytes, offset).isPresent()
          || SegyText.looksLikeText(bytes.copy(offset, TEXT));
    }
    remarks.add("Revision 0 leaves binary header bytes 3505-3506 free; they hold " + stated + ", "
        + (text
            ? "and as many extended textual headers were found and taken"
            : "but no such number of extended textual headers follows: none was read"));
    return text ? stated : 0;
  }

  private static int openTextRecords(String name, SegyBytes bytes) {
    int records = 0;
    while (HEADERS + (records + 1L) * TEXT <= bytes.length()) {
      records++;
      if (SegyStanzas.endsText(bytes, HEADERS + (records - 1L) * TEXT)) {
        return records;
      }
    }
    throw fault(
        name,
        SegyField.EXTENDED_TEXT_HEADERS,
        "the number of extended textual headers is left open (-1), and no record ((SEG: EndText)) is"
            + " found up to the file's end at byte " + bytes.length(),
        CUT);
  }

  private static long firstTrace(
      String name, SegyBytes bytes, SegyHeader header, SegyRevision revision, int records) {
    long least = HEADERS + (long) records * TEXT;
    long stated = revision.isAtLeast(2, 0) ? header.get(SegyField.FIRST_TRACE_OFFSET) : 0;
    if (stated == 0) {
      return least;
    }
    if (stated < least || stated > bytes.length()) {
      throw fault(
          name,
          SegyField.FIRST_TRACE_OFFSET,
          "the first trace is said to start at byte " + Long.toUnsignedString(stated)
              + "; expected " + least + " (where the headers end) to " + bytes.length()
              + " (where the file ends)",
          "Either the file is cut short or this number is wrong: copy it again from its source, or"
              + " correct the header");
    }
    return stated;
  }

  static ScanFileException fault(String name, SegyField field, String problem, String remedy) {
    return Place.of(name)
        .atByte(field.position() - 1L)
        .fault(problem + " (" + field.where() + ")", remedy);
  }
}
