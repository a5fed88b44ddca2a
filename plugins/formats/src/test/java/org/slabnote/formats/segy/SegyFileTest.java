package org.slabnote.formats.segy;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.ByteOrder;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Layouts that the reference files do not have, built from the byte tables of the standard. */
class SegyFileTest {
  @Test
  void headersAloneAreAFileOfNoTrace() {
    SegyFile file = SegyBuild.revision(1, 0).open();
    assertThat(file.traceCount()).isZero();
    assertThat(file.commonSampleCount()).isEmpty();
  }

  @Test
  void traceCountsOfTheirOwnHoldWithoutTheFixedLengthFlag() {
    SegyFile file = SegyBuild.revision(1, 0)
        .header(SegyField.TRACE_SAMPLES, 2)
        .samples(1, 2)
        .header()
        .samples(3, 4, 5, 6)
        .open();
    assertThat(file.traceCount()).isEqualTo(2);
    assertThat(file.trace(0).samples()).containsExactly(1, 2);
    assertThat(file.trace(1).samples()).containsExactly(3, 4, 5, 6);
    assertThat(file.trace(1).byteOffset(1)).isEqualTo(3600 + 244 + 240 + 2);
  }

  @Test
  void staleTraceCountsGiveWayToTheFixedLengthFlagAndAreRemarked() {
    SegyFile file = SegyBuild.revision(1, 0)
        .set(SegyField.FIXED_LENGTH, 1)
        .header(SegyField.TRACE_SAMPLES, 462)
        .samples(1, 2, 3, 4)
        .header(SegyField.TRACE_SAMPLES, 462)
        .samples(5, 6, 7, 8)
        .open();
    assertThat(file.trace(1).samples()).containsExactly(5, 6, 7, 8);
    assertThat(file.remarks())
        .containsExactly(
            "Each trace header states 462 samples (bytes 115-116), the"
                + " binary header 4 for all (fixed-length flag set); 4 were read, which fits the file's length");
  }

  @Test
  void staleTraceCountsThatLeadNowhereGiveWayEvenWithoutTheFlag() {
    SegyFile file = SegyBuild.revision(0, 0)
        .header(SegyField.TRACE_SAMPLES, 462)
        .samples(1, 2, 3, 4)
        .header(SegyField.TRACE_SAMPLES, 462)
        .samples(5, 6, 7, 8)
        .open();
    assertThat(file.trace(1).samples()).containsExactly(5, 6, 7, 8);
    assertThat(file.remarks())
        .containsExactly("Each trace header states 462 samples (bytes 115-116), which"
            + " does not fit the file's length; the binary header's 4 were read, which does");
  }

  @Test
  void binaryHeaderThatAllTracesContradictIsRemarked() {
    SegyFile file = SegyBuild.revision(0, 0)
        .set(SegyField.SAMPLES, 512)
        .header(SegyField.TRACE_SAMPLES, 2)
        .samples(1, 2)
        .header(SegyField.TRACE_SAMPLES, 2)
        .samples(3, 4)
        .open();
    assertThat(file.trace(1).samples()).containsExactly(3, 4);
    assertThat(file.remarks())
        .containsExactly("Each trace header states 2 samples (bytes 115-116), the binary"
            + " header 512 (binary header bytes 3221-3222), without the fixed-length flag; the traces' own count"
            + " was read, which fits the file's length");
  }

  @Test
  void wideCountOverridesTheTwoByteOneFromRevision2On() {
    assertThat(SegyBuild.revision(2, 0)
            .set(SegyField.WIDE_SAMPLES, 3)
            .set(SegyField.FIXED_LENGTH, 1)
            .header()
            .samples(1, 2, 3)
            .open()
            .trace(0)
            .samples())
        .containsExactly(1, 2, 3);
    assertThat(SegyBuild.revision(1, 0)
            .set(SegyField.WIDE_SAMPLES, 3)
            .header()
            .samples(1, 2, 3, 4)
            .open()
            .trace(0)
            .samples())
        .containsExactly(1, 2, 3, 4);
  }

  @ParameterizedTest
  @ValueSource(ints = {0, 1})
  void traceHeaderExtensionsAreReadWhereDeclared(int minor) {
    // Two bytes wide in revision 2.1, four in 2.0.
    SegyField announced = minor == 1 ? SegyField.ADDITIONAL_TRACE_HEADERS : SegyField.SURVEY_TYPE;
    SegyFile file = SegyBuild.revision(2, minor)
        .set(announced, 1)
        .header(SegyField.SOURCE_X, 9, SegyField.TRACE_SAMPLES, 1)
        .header(SegyField.X_SAMPLES, 2, SegyField.X_SOURCE_X, 0.125)
        .samples(7, 8)
        .header(SegyField.SOURCE_X, 9, SegyField.TRACE_SAMPLES, 1)
        .raw(new byte[240])
        .samples(5)
        .open();
    assertThat(file.trace(0).samples()).containsExactly(7, 8);
    assertThat(file.trace(0).sourceX()).isEqualTo(0.125);
    assertThat(file.trace(0).extensions()).hasSize(1);
    assertThat(file.trace(0).standardExtension()).isPresent();
    assertThat(file.trace(1).samples()).containsExactly(5);
    assertThat(file.trace(1).sourceX()).isEqualTo(9);
    assertThat(file.trace(1).standardExtension()).isEmpty();
  }

  @Test
  void traceMaySayItsOwnNumberOfExtensions() {
    SegyFile file = SegyBuild.revision(2, 1)
        .set(SegyField.ADDITIONAL_TRACE_HEADERS, 1)
        .header()
        .header(SegyField.X_BLOCKS, 2)
        .raw(new byte[240])
        .samples(1, 2, 3, 4)
        .header()
        .header(SegyField.X_BLOCKS, 1)
        .samples(5, 6, 7, 8)
        .open();
    assertThat(file.trace(0).extensions()).hasSize(2);
    assertThat(file.trace(1).extensions()).hasSize(1);
    assertThat(file.trace(1).samples()).containsExactly(5, 6, 7, 8);
  }

  @Test
  void stanzasRunFromNameToName() {
    SegyFile file = SegyBuild.revision(1, 0)
        .set(SegyField.EXTENDED_TEXT_HEADERS, 3)
        .record("((SLAB: Place ver 1.0))\r\nPlant room")
        .record("second record")
        .ebcdicRecord("((SEG: EndText))")
        .header()
        .samples(1, 2, 3, 4)
        .open();
    assertThat(file.extendedTexts()).hasSize(3);
    assertThat(file.stanzas())
        .extracting(SegyStanza::name)
        .containsExactly("SLAB: Place ver 1.0", "SEG: EndText");
    assertThat(file.stanzas().get(0).text()).startsWith("Plant room").endsWith("second record");
    assertThat(file.stanzas().get(0).records()).isEqualTo(2);
    assertThat(file.stanzas().get(1).byteOffset()).isEqualTo(3600 + 6400);
    assertThat(file.stanzas().get(1).encoding()).isEqualTo(SegyText.Encoding.EBCDIC);
  }

  @Test
  void openNumberOfTextRecordsEndsAtItsStanza() {
    SegyFile file = SegyBuild.revision(1, 0)
        .set(SegyField.EXTENDED_TEXT_HEADERS, -1)
        .record("((SLAB: Place ver 1.0))")
        .record("((SEG: EndText))")
        .header()
        .samples(1, 2, 3, 4)
        .open();
    assertThat(file.extendedTexts()).hasSize(2);
    assertThat(file.trace(0).samples()).containsExactly(1, 2, 3, 4);
  }

  @Test
  void firstTraceMayStandFartherOn() {
    SegyFile file = SegyBuild.revision(2, 0)
        .set(SegyField.FIRST_TRACE_OFFSET, 3700)
        .raw(new byte[100])
        .header()
        .samples(1, 2, 3, 4)
        .open();
    assertThat(file.trace(0).samples()).containsExactly(1, 2, 3, 4);
  }

  @ParameterizedTest
  @ValueSource(ints = {2, -1})
  void trailerIsNoTrace(int stated) {
    SegyFile file = SegyBuild.revision(2, 0)
        .set(SegyField.TRAILER_RECORDS, stated)
        .header()
        .samples(1, 2, 3, 4)
        .record("((SLAB: Notes ver 1.0))\nRain in the night before. " + "Blank ".repeat(520))
        .record("((SEG: EndText))")
        .open();
    assertThat(file.traceCount()).isEqualTo(1);
    assertThat(file.trailer())
        .extracting(SegyStanza::name)
        .containsExactly("SLAB: Notes ver 1.0", "SEG: EndText");
  }

  @Test
  void byteOrderConstantDecides() {
    SegyFile file = SegyBuild.revision(2, 0, ByteOrder.LITTLE_ENDIAN)
        .set(SegyField.BYTE_ORDER, 0x01020304)
        .header()
        .samples(-2, 300, 1, 0)
        .open();
    assertThat(file.byteOrder()).isEqualTo(ByteOrder.LITTLE_ENDIAN);
    assertThat(file.trace(0).samples()).containsExactly(-2, 300, 1, 0);
  }

  @Test
  void junkInBytesThatRevision0LeavesFreeIsRemarked() {
    SegyFile file = SegyBuild.revision(0x40, 0x40)
        .set(SegyField.EXTENDED_TEXT_HEADERS, 0x4040)
        .header()
        .samples(1, 2, 3, 4)
        .open();
    assertThat(file.revision()).hasToString("0.0");
    assertThat(file.remarks())
        .containsExactly(
            "Binary header bytes 3501-3502 hold 64, 64, which is no revision; read as revision 0, which leaves"
                + " these bytes free",
            "Revision 0 leaves binary header bytes 3505-3506 free; they hold 16448, but no such number of"
                + " extended textual headers follows: none was read");
  }
}
