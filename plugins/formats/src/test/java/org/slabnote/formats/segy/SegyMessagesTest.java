package org.slabnote.formats.segy;

import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.Arrays;
import org.junit.jupiter.api.Test;
import org.slabnote.api.ScanFileException;

/** Each refusal of the reader, provoked, word for word. */
class SegyMessagesTest {
  private static final String EITHER =
      "Either the file is cut short or this number is wrong: copy it again"
          + " from its source, or correct the header";

  @Test
  void emptyFile() {
    refuses(
        new byte[0],
        "E07.sgy: the file is empty; a SEG-Y file starts with 3600 bytes of headers."
            + " Copy it again from its source");
  }

  @Test
  void headersCutShort() {
    refuses(
        new byte[3599],
        "E07.sgy: the file ends after 3599 bytes; a SEG-Y file starts with 3600 bytes of"
            + " headers. It is cut short or no SEG-Y file: copy it again from its source");
  }

  @Test
  void unknownSampleFormat() {
    refuses(
        SegyBuild.revision(1, 0).set(SegyField.FORMAT, 4),
        "E07.sgy, byte 3224: the sample format code is 4; expected one of 1, 2, 3, 5, 6, 7, 8, 9, 10, 11,"
            + " 12, 15, 16 (binary header bytes 3225-3226). Perhaps this is no SEG-Y file; else write it"
            + " again in one of these formats");
  }

  @Test
  void bytesSwappedInPairs() {
    refuses(
        SegyBuild.revision(2, 0).set(SegyField.BYTE_ORDER, 0x02010403),
        "E07.sgy, byte 3296: the byte-order constant says that bytes are swapped in pairs (binary header"
            + " bytes 3297-3300). Such files are not read: write it again in big-endian or little-endian"
            + " order");
  }

  @Test
  void traceCutShort() {
    byte[] whole = SegyBuild.revision(1, 0)
        .set(SegyField.FIXED_LENGTH, 1)
        .header(SegyField.TRACE_SAMPLES, 4)
        .samples(1, 2, 3, 4)
        .header(SegyField.TRACE_SAMPLES, 4)
        .samples(5, 6, 7, 8)
        .bytes();
    refuses(
        Arrays.copyOf(whole, whole.length - 3),
        "E07.sgy, trace 2 at byte 3848: 4 samples expected (binary header bytes 3221-3222), the file ends"
            + " after 2. The file is cut short: copy it again from its source");
    refuses(
        Arrays.copyOf(whole, 3848 + 17),
        "E07.sgy, trace 2 at byte 3848: 240 bytes of trace header expected, the file ends after 17. The"
            + " file is cut short, or a count before this place is wrong: copy it again from its source");
  }

  @Test
  void countsThatDisagreeAreBothNamed() {
    refuses(
        SegyBuild.revision(1, 0).header(SegyField.TRACE_SAMPLES, 600).samples(1, 2, 3, 4),
        "E07.sgy, trace 1 at byte 3600: 600 samples expected (trace header bytes 115-116; binary header"
            + " bytes 3221-3222 say 4), the file ends after 4. Either the file is cut short or one of"
            + " these counts is wrong: copy it again from its source, or correct the header");
    refuses(
        SegyBuild.revision(1, 0)
            .set(SegyField.FIXED_LENGTH, 1)
            .header(SegyField.TRACE_SAMPLES, 4)
            .samples(1, 2, 3, 4)
            .header(SegyField.TRACE_SAMPLES, 5)
            .samples(1, 2, 3, 4),
        "E07.sgy, trace 2 at byte 3848: 5 samples by trace header bytes 115-116, 4 by binary header bytes"
            + " 3221-3222, which hold for each trace by the fixed-length flag (bytes 3503-3504); expected"
            + " the same. Correct the header, or write the file again");
  }

  @Test
  void countThatFitsAsWellAsTheTracesOwn() {
    // Two traces of 240 + 2 x 4 bytes are as long as one of 240 + 2 x 128.
    refuses(
        SegyBuild.revision(1, 0)
            .set(SegyField.FIXED_LENGTH, 1)
            .set(SegyField.SAMPLES, 128)
            .header(SegyField.TRACE_SAMPLES, 4)
            .samples(1, 2, 3, 4)
            .header(SegyField.TRACE_SAMPLES, 4)
            .samples(1, 2, 3, 4),
        "E07.sgy, byte 3220: 128 samples in each trace, but the trace headers say 4 (bytes 115-116), and"
            + " both fit the file's length (binary header bytes 3221-3222). Correct the wrong one of the"
            + " two in the header");
  }

  @Test
  void noCountAnywhere() {
    refuses(
        SegyBuild.revision(1, 0).set(SegyField.SAMPLES, 0).header().samples(1),
        "E07.sgy, trace 1 at byte 3600: no sample count: trace header bytes 115-116 and binary header bytes"
            + " 3221-3222 are 0; expected at least 1 in one of them. Correct the header, or write the file"
            + " again");
  }

  @Test
  void absurdWideCount() {
    refuses(
        SegyBuild.revision(2, 0)
            .set(SegyField.WIDE_SAMPLES, 4294967295.0)
            .set(SegyField.FIXED_LENGTH, 1)
            .header()
            .samples(1, 2, 3, 4),
        "E07.sgy, trace 1 at byte 3600: 4294967295 samples expected (binary header bytes 3269-3272), the"
            + " file ends after 4. Either the file is cut short or this count is wrong: copy it again from"
            + " its source, or correct the header");
  }

  @Test
  void extendedTextBeyondTheEnd() {
    refuses(
        SegyBuild.revision(1, 0).set(SegyField.EXTENDED_TEXT_HEADERS, 32767),
        "E07.sgy, byte 3504: 32767 extended textual headers end at byte 104858000; the file ends at byte"
            + " 3600 (binary header bytes 3505-3506). " + EITHER);
    refuses(
        SegyBuild.revision(1, 0).set(SegyField.EXTENDED_TEXT_HEADERS, -2),
        "E07.sgy, byte 3504: the number of extended textual headers is -2; expected -1 (not known) or more"
            + " (binary header bytes 3505-3506). Correct the header, or write the file again");
    refuses(
        SegyBuild.revision(1, 0).set(SegyField.EXTENDED_TEXT_HEADERS, -1).record("((A: B))"),
        "E07.sgy, byte 3504: the number of extended textual headers is left open (-1), and no record"
            + " ((SEG: EndText)) is found up to the file's end at byte 6800 (binary header bytes"
            + " 3505-3506). The file is cut short: copy it again from its source");
  }

  @Test
  void firstTraceOutsideTheFile() {
    refuses(
        SegyBuild.revision(2, 0).set(SegyField.FIRST_TRACE_OFFSET, 3601),
        "E07.sgy, byte 3520: the first trace is said to start at byte 3601; expected 3600 (where the headers"
            + " end) to 3600 (where the file ends) (binary header bytes 3521-3528). " + EITHER);
  }

  @Test
  void numberOfTracesAgainstTheFile() {
    refuses(
        SegyBuild.revision(2, 0).set(SegyField.TRACES_IN_FILE, 3).header().samples(1, 2, 3, 4),
        "E07.sgy, byte 3512: the header says 3 traces; after the headers the file has room for 1 at most"
            + " (binary header bytes 3513-3520). " + EITHER);
    refuses(
        SegyBuild.revision(2, 0)
            .set(SegyField.SAMPLES, 200)
            .set(SegyField.TRACES_IN_FILE, 2)
            .header()
            .samples(new int[200]),
        "E07.sgy, byte 3512: the header says 2 traces; the file ends after 1 (binary header bytes"
            + " 3513-3520). " + EITHER);
    refuses(
        SegyBuild.revision(2, 0)
            .set(SegyField.TRACES_IN_FILE, 1)
            .header()
            .samples(1, 2, 3, 4)
            .header()
            .samples(1, 2, 3, 4),
        "E07.sgy, byte 3848: the header says 1 traces (binary header bytes 3513-3520), which end here; 248"
            + " bytes follow. Correct the number of traces or of trailer records in the header, or write"
            + " the file again");
  }

  @Test
  void trailerBeyondTheFile() {
    refuses(
        SegyBuild.revision(2, 0).set(SegyField.TRAILER_RECORDS, 2).header().samples(1, 2, 3, 4),
        "E07.sgy, byte 3528: the header says 2 trailer records of 3200 bytes; expected -1 (not known) to 0"
            + " (the room after the headers) (binary header bytes 3529-3532). " + EITHER);
  }

  @Test
  void extensionsBeyondTheFile() {
    refuses(
        SegyBuild.revision(2, 1)
            .set(SegyField.ADDITIONAL_TRACE_HEADERS, 65535)
            .header()
            .samples(1, 2, 3, 4),
        "E07.sgy, trace 1 at byte 3600: 65535 additional trace headers of 240 bytes expected (binary header"
            + " bytes 3507-3508), the file ends after 0. The file is cut short, or this number is wrong:"
            + " copy it again from its source");
  }

  private static void refuses(SegyBuild build, String message) {
    refuses(build.bytes(), message);
  }

  private static void refuses(byte[] bytes, String message) {
    assertThatThrownBy(() -> SegyFile.of("E07.sgy", bytes))
        .isInstanceOf(ScanFileException.class)
        .hasMessage(message);
  }
}
