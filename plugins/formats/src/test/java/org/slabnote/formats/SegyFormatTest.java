package org.slabnote.formats;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.slabnote.formats.Rows.row;
import static org.slabnote.formats.segy.SegyField.ADDITIONAL_TRACE_HEADERS;
import static org.slabnote.formats.segy.SegyField.CDP_X;
import static org.slabnote.formats.segy.SegyField.COORDINATE_SCALAR;
import static org.slabnote.formats.segy.SegyField.COORDINATE_UNITS;
import static org.slabnote.formats.segy.SegyField.DELAY;
import static org.slabnote.formats.segy.SegyField.FORMAT;
import static org.slabnote.formats.segy.SegyField.GROUP_X;
import static org.slabnote.formats.segy.SegyField.INTERVAL;
import static org.slabnote.formats.segy.SegyField.MEASUREMENT_SYSTEM;
import static org.slabnote.formats.segy.SegyField.SAMPLES;
import static org.slabnote.formats.segy.SegyField.SOURCE_X;
import static org.slabnote.formats.segy.SegyField.TRACES_PER_ENSEMBLE;
import static org.slabnote.formats.segy.SegyField.TRACE_IDENTIFICATION;
import static org.slabnote.formats.segy.SegyField.TRACE_INTERVAL;
import static org.slabnote.formats.segy.SegyField.TRACE_SAMPLES;
import static org.slabnote.formats.segy.SegyField.WIDE_INTERVAL;
import static org.slabnote.formats.segy.SegyField.X_INTERVAL;

import java.util.List;
import java.util.ServiceLoader;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.slabnote.api.Plugin;
import org.slabnote.api.Scan;
import org.slabnote.api.ScanFileException;
import org.slabnote.api.SurveyRow;
import org.slabnote.formats.segy.SegyBuild;

class SegyFormatTest {
  private static final SegyFormat FORMAT_UNDER_TEST = new SegyFormat();

  @Test
  void pluginIsFoundAndOffersSegyToTheEngineAndNothingToCells() {
    Plugin plugin = ServiceLoader.load(Plugin.class).stream()
        .map(ServiceLoader.Provider::get)
        .filter(one -> one.id().equals("formats"))
        .findFirst()
        .orElseThrow();
    assertThat(plugin.scanFormats())
        .extracting(format -> format.id() + "/" + format.revision())
        .containsExactly("formats.segy/1");
    assertThat(plugin.operations()).isEmpty();
    assertThat(plugin.exportedPackages()).isEmpty();
  }

  @Test
  void recognisesByNameOrByContent() {
    byte[] head = SegyBuild.revision(1, 0).bytes();
    assertThat(FORMAT_UNDER_TEST.recognises("E07.SGY", new byte[0])).isTrue();
    assertThat(FORMAT_UNDER_TEST.recognises("e07.segy", new byte[0])).isTrue();
    assertThat(FORMAT_UNDER_TEST.recognises("E07.dat", head)).isTrue();
    assertThat(FORMAT_UNDER_TEST.recognises("E07.dat", new byte[4096])).isFalse();
    assertThat(FORMAT_UNDER_TEST.recognises(
            "E07.csv", "x,y\n1,2\n".getBytes(java.nio.charset.StandardCharsets.US_ASCII)))
        .isFalse();
  }

  @Test
  void scanTakesGeometryFromTheRowAndSamplesFromTheFile() {
    Scan scan = FORMAT_UNDER_TEST.read(two(20), row(0.02, 0.1, 0.7));
    assertThat(scan.pass()).isEqualTo("E07");
    assertThat(scan.channel()).isEqualTo("1");
    assertThat(scan.interval().value()).isEqualTo(0.02);
    assertThat(scan.axis().start().value()).isZero();
    assertThat(scan.axis().count()).isEqualTo(4);
    assertThat(scan.track().x().toArray()).containsExactly(0.1, 0.7);
    assertThat(scan.trace(1)).containsExactly(5, 6, 7, 8);
    assertThat(scan.history()).isEmpty();
    assertThat(scan.surface()).isEmpty();
  }

  /** Number in the field, interval in the survey table, how the field was read. */
  @ParameterizedTest
  @CsvSource({
    "20, 0.02, picoseconds",
    "98, 0.098, picoseconds",
    "59, 0.0586, picoseconds",
    "20, 0.0205, picoseconds",
    "65535, 65.535, picoseconds",
    "2, 2000, microseconds",
    "4000, 4000000, microseconds"
  })
  void intervalFieldMayHoldPicosecondsOrMicroseconds(int number, double ns, String unit) {
    assertThat(FORMAT_UNDER_TEST.remarks(two(number), row(ns, 0, 1)))
        .singleElement()
        .asString()
        .startsWith(
            "The sample interval in the file, read as " + unit + ", agrees with the survey");
  }

  @Test
  void intervalOfZeroStatesNothing() {
    assertThat(FORMAT_UNDER_TEST.remarks(two(0), row(0.02, 0, 1)))
        .containsExactly("The file states no sample interval; 0.02 ns is the survey table's");
  }

  @Test
  void intervalsThatDisagreeAreBothNamed() {
    refuses(
        two(98),
        row(0.12, 0, 1),
        "E07.sgy: the sample interval field holds 98 (binary header bytes"
            + " 3217-3218; as picoseconds 0.098 ns, as microseconds 98000 ns), but survey.csv (pass E07, channel 1) says"
            + " sample_interval_ns = 0.12. State the right one in survey.csv; nothing was read");
    refuses(
        two(20),
        row(0.0206, 0, 1),
        "E07.sgy: the sample interval field holds 20 (binary header bytes"
            + " 3217-3218; as picoseconds 0.02 ns, as microseconds 20000 ns), but survey.csv (pass E07, channel 1) says"
            + " sample_interval_ns = 0.0206. State the right one in survey.csv; nothing was read");
  }

  @Test
  void eightByteIntervalOverridesTheTwoByteOne() {
    byte[] file = SegyBuild.revision(2, 0)
        .set(WIDE_INTERVAL, 1.953125e-5)
        .set(INTERVAL, 1)
        .header()
        .samples(1, 2, 3, 4)
        .bytes();
    assertThat(FORMAT_UNDER_TEST.remarks(file, row(0.01953125, 0, 1)))
        .containsExactly(
            "The sample interval in the file, read as microseconds, agrees with the survey table's 0.0195312"
                + " ns");
    assertThat(FORMAT_UNDER_TEST.read(file, row(0.01953, 0, 1)).interval().value())
        .isEqualTo(0.01953);
    refuses(
        file,
        row(0.0196, 0, 1),
        "E07.sgy: the sample interval field holds 0.00001953125 (binary header"
            + " bytes 3273-3280; as picoseconds 0.0000000195313 ns, as microseconds 0.0195312 ns), but"
            + " survey.csv (pass E07, channel 1) says sample_interval_ns = 0.0196. State the right one in survey.csv; nothing was"
            + " read");
  }

  @ParameterizedTest
  @CsvSource({"NaN, NaN", "Infinity, infinity", "-2e-5, -0.00002"})
  void eightByteIntervalThatIsNoIntervalIsRefused(double number, String shown) {
    byte[] file = SegyBuild.revision(2, 0)
        .set(WIDE_INTERVAL, number)
        .header()
        .samples(1, 2, 3, 4)
        .bytes();
    assertThatThrownBy(() -> FORMAT_UNDER_TEST.read(file, row(0.02, 0, 1)))
        .isInstanceOf(ScanFileException.class)
        .hasMessageContaining("the sample interval field holds " + shown + " (binary header");
  }

  @Test
  void traceWithAnotherIntervalIsNamed() {
    byte[] file = SegyBuild.revision(1, 0)
        .set(INTERVAL, 20)
        .header(TRACE_INTERVAL, 20)
        .samples(1, 2, 3, 4)
        .header(TRACE_INTERVAL, 50)
        .samples(5, 6, 7, 8)
        .bytes();
    refuses(
        file,
        row(0.02, 0, 1),
        "E07.sgy, trace 2 at byte 3848: the sample interval field holds 50 (trace"
            + " header bytes 117-118; as picoseconds 0.05 ns, as microseconds 50000 ns), but survey.csv (pass E07, channel 1) says"
            + " sample_interval_ns = 0.02. State the right one in survey.csv; nothing was read");
  }

  @Test
  void fieldsInTwoUnitsAreRefused() {
    byte[] file = SegyBuild.revision(2, 1)
        .set(WIDE_INTERVAL, 2e-5)
        .set(ADDITIONAL_TRACE_HEADERS, 1)
        .header()
        .header(X_INTERVAL, 20)
        .samples(1, 2, 3, 4)
        .bytes();
    refuses(
        file,
        row(0.02, 0, 1),
        "E07.sgy, trace 1 at byte 3600: the sample interval field holds 20 (trace"
            + " header extension bytes 145-152), which agrees with survey.csv (pass E07, channel 1) in"
            + " picoseconds, while a field before it does in microseconds; expected one unit in the whole"
            + " file. Write the file again; nothing was read");
  }

  @Test
  void paddingBeyondReasonIsRefused() {
    // One trace of 60,000 samples and 1,200 of one: 72 million samples when padded.
    SegyBuild build =
        SegyBuild.revision(1, 0).set(FORMAT, 8).header(TRACE_SAMPLES, 60_000).raw(new byte[60_000]);
    for (int i = 0; i < 1200; i++) {
      build.header(TRACE_SAMPLES, 1).raw((byte) 1);
    }
    refuses(
        build.bytes(),
        row(0.02, 0, 1, "ragged", "pad"),
        "E07.sgy: 1201 traces padded to 60000 samples are"
            + " too many. State cut in the column ragged of survey.csv, or split the file");
  }

  @Test
  void raggedTracesAreRefusedUnlessToldToCutOrPad() {
    byte[] file = SegyBuild.revision(1, 0)
        .header(TRACE_SAMPLES, 3)
        .samples(1, 2, 3)
        .header(TRACE_SAMPLES, 2)
        .samples(4, 5)
        .bytes();
    refuses(
        file,
        row(0.02, 0, 1),
        "E07.sgy, trace 2 at byte 3846: 2 samples, trace 1 has 3; expected as many"
            + " in each trace. Export the file again, or state cut or pad in the column ragged of survey.csv");
    assertThat(FORMAT_UNDER_TEST.read(file, row(0.02, 0, 1, "ragged", "cut")).toTraces())
        .isDeepEqualTo(new float[][] {{1, 2}, {4, 5}});
    assertThat(FORMAT_UNDER_TEST.read(file, row(0.02, 0, 1, "ragged", "pad")).toTraces())
        .isDeepEqualTo(new float[][] {{1, 2, 3}, {4, 5, 0}});
    assertThat(FORMAT_UNDER_TEST.remarks(file, row(0.02, 0, 1, "ragged", "pad")))
        .contains(
            "Traces have 2 to 3 samples; all were padded with zeros to the longest, as survey.csv says");
    refuses(
        file,
        row(0.02, 0, 1, "ragged", "yes"),
        "E07.sgy: survey.csv (pass E07, channel 1) says ragged = yes; expected cut, pad or nothing."
            + " Correct survey.csv");
  }

  @ParameterizedTest
  @CsvSource({"NaN, NaN", "Infinity, infinity", "-Infinity, -infinity"})
  void samplesThatAreNoNumbersAreRefusedWithTraceAndSample(float value, String shown) {
    byte[] file = SegyBuild.revision(1, 0)
        .set(FORMAT, 5)
        .header()
        .floats(1, 2, 3, 4)
        .header()
        .floats(5, 6, value, 8)
        .bytes();
    refuses(
        file,
        row(0.02, 0, 1),
        "E07.sgy, trace 2, sample 3 at byte " + (3600 + 256 + 240 + 8) + ": " + shown
            + "; expected a finite number. Export the file again, or mend the trace before it is read");
  }

  @Test
  void doublesBeyondAFloatAreRefused() {
    byte[] file = SegyBuild.revision(1, 0)
        .set(FORMAT, 6)
        .set(SAMPLES, 1)
        .header()
        .raw((byte) 0x7F, (byte) 0xE0, (byte) 0, (byte) 0, (byte) 0, (byte) 0, (byte) 0, (byte) 0)
        .bytes();
    assertThatThrownBy(() -> FORMAT_UNDER_TEST.read(file, row(0.02, 0, 1)))
        .hasMessageStartingWith("E07.sgy, trace 1, sample 1 at byte 3840: 898846567000000000")
        .hasMessageContaining(", beyond a four-byte float; expected a finite number.");
  }

  @Test
  void fileOfHeadersOnlyIsRefused() {
    refuses(
        SegyBuild.revision(1, 0).bytes(),
        row(0.02, 0, 1),
        "E07.sgy, byte 3600: the file ends after its"
            + " headers; expected at least one trace. Copy it again from its source");
  }

  @Test
  void lengthOfThePassInMetresMustAgree() {
    refuses(
        metres(1, 250, 550),
        row(0.02, 0.1, 0.7),
        "E07.sgy: from the first to the last of 2 traces the"
            + " trace headers cover 0.300 m, but survey.csv (pass E07, channel 1) says 0.600 m; expected the same within 0.015 m."
            + " Correct x0_m to y1_m in survey.csv, copy the file again if traces are missing, or state ignore"
            + " in the column header_positions; nothing was read");
    assertThat(FORMAT_UNDER_TEST.remarks(
            metres(1, 250, 550), row(0.02, 0.1, 0.7, "header_positions", "ignore")))
        .contains("The coordinates in the trace headers were not looked at, as survey.csv says");
    refuses(
        metres(1, 250, 550),
        row(0.02, 0.1, 0.7, "header_positions", "no"),
        "E07.sgy: survey.csv (pass E07, channel 1) says header_positions = no; expected check, ignore or nothing. Correct survey.csv");
  }

  @Test
  void anotherFrameOfTheSameLengthIsRemarked() {
    assertThat(FORMAT_UNDER_TEST.remarks(metres(1, 7250, 7850), row(0.02, 0.1, 0.7)))
        .contains(
            "The coordinates in the trace headers run from 7.250, 0.000 m to 7.850, 0.000 m: taken as"
                + " another frame than the slab's, since the length agrees");
    assertThat(FORMAT_UNDER_TEST.remarks(metres(1, 100, 700), row(0.02, 0.1, 0.7)))
        .hasSize(1);
  }

  @Test
  void passThatRunsBackwardsIsRefused() {
    refuses(
        metres(1, 700, 100),
        row(0.02, 0.1, 0.7),
        "E07.sgy: the trace headers run from 0.700, 0.000 m to"
            + " 0.100, 0.000 m, but survey.csv (pass E07, channel 1) says from 0.100, 0.000 m to 0.700, 0.000 m. Swap start and end"
            + " in survey.csv if the pass was taken that way; nothing was read");
  }

  @Test
  void coordinatesWithoutAUnitAreNotHeldAgainstTheSurvey() {
    assertThat(FORMAT_UNDER_TEST.remarks(metres(0, 250, 550), row(0.02, 0.1, 0.7)))
        .contains(
            "The coordinates in the trace headers have no stated unit of length (bytes 89-90 and"
                + " 3255-3256) and were not held against the survey table");
  }

  @Test
  void millimetresDeclaredAsMetresAreRemarked() {
    byte[] file = SegyBuild.revision(1, 0)
        .set(INTERVAL, 20)
        .set(MEASUREMENT_SYSTEM, 1)
        .header(COORDINATE_UNITS, 1, SOURCE_X, 100, GROUP_X, 160)
        .samples(1, 2, 3, 4)
        .header(COORDINATE_UNITS, 1, SOURCE_X, 700, GROUP_X, 760)
        .samples(1, 2, 3, 4)
        .bytes();
    assertThat(FORMAT_UNDER_TEST.remarks(file, row(0.02, 0.13, 0.73)))
        .contains(
            "The coordinates in the trace headers are perhaps in millimetres, though stated in metres:"
                + " so read, the length of the pass agrees with survey.csv");
  }

  @Test
  void antennasFartherApartThanTheSurveySaysAreRemarked() {
    assertThat(FORMAT_UNDER_TEST.remarks(metres(1, 100, 700, 40), row(0.02, 0.1, 0.7)))
        .contains(
            "The trace headers put source and group 0.080 m apart, survey.csv says antenna_offset_m = 0.060 m;"
                + " the survey table's was taken");
  }

  @Test
  void tracesThatDoNotStandEvenlyAreRemarked() {
    SegyBuild build = SegyBuild.revision(1, 0).set(INTERVAL, 20).set(MEASUREMENT_SYSTEM, 1);
    for (int x : new int[] {100, 500, 700}) {
      build.header(COORDINATE_UNITS, 1, COORDINATE_SCALAR, -1000, CDP_X, x).samples(1, 2, 3, 4);
    }
    assertThat(FORMAT_UNDER_TEST.remarks(build.bytes(), row(0.02, 0.1, 0.7)))
        .contains(
            "By the trace headers the traces are not evenly spaced: trace 2 is off by 0.100 m; the even spacing"
                + " of the survey table was kept");
  }

  @Test
  void oneMissingTraceWithinTheToleranceIsRemarked() {
    SegyBuild build = SegyBuild.revision(1, 0).set(INTERVAL, 20).set(MEASUREMENT_SYSTEM, 1);
    for (int x = 100; x < 700; x += 10) {
      build.header(COORDINATE_UNITS, 1, COORDINATE_SCALAR, -1000, CDP_X, x).samples(1, 2, 3, 4);
    }
    assertThat(FORMAT_UNDER_TEST.remarks(build.bytes(), row(0.02, 0.1, 0.7)))
        .contains(
            "The trace headers cover 0.590 m, survey.csv says 0.600 m: within the tolerance of 0.015 m, yet more"
                + " than half a trace spacing; the survey table's was kept");
  }

  @Test
  void feetAreFeet() {
    SegyBuild build = SegyBuild.revision(1, 0).set(INTERVAL, 20).set(MEASUREMENT_SYSTEM, 2);
    for (int x : new int[] {0, 2000}) {
      build.header(COORDINATE_UNITS, 1, COORDINATE_SCALAR, -1000, CDP_X, x).samples(1, 2, 3, 4);
    }
    assertThat(FORMAT_UNDER_TEST.remarks(build.bytes(), row(0.02, 0, 0.6096))).hasSize(1);
    refuses(
        build.bytes(),
        row(0.02, 0, 2),
        "E07.sgy: from the first to the last of 2 traces the trace headers"
            + " cover 0.610 m, but survey.csv (pass E07, channel 1) says 2.000 m; expected the same within 0.040"
            + " m. Correct x0_m to y1_m in survey.csv, copy the file again if traces are missing, or state"
            + " ignore in the column header_positions; nothing was read");
  }

  @Test
  void deadAndDelayedTracesAndMissingOnesAreRemarked() {
    byte[] file = SegyBuild.revision(1, 0)
        .set(INTERVAL, 20)
        .set(TRACES_PER_ENSEMBLE, 3)
        .header(TRACE_IDENTIFICATION, 1, DELAY, -3)
        .samples(1, 2, 3, 4)
        .header(TRACE_IDENTIFICATION, 2)
        .samples(0, 0, 0, 0)
        .bytes();
    assertThat(FORMAT_UNDER_TEST.remarks(file, row(0.02, 0, 1)))
        .containsExactly(
            "The sample interval in the file, read as picoseconds, agrees with the survey table's 0.02 ns",
            "The binary header states 3 traces in an ensemble (bytes 3213-3214), the file has 2: perhaps traces"
                + " are missing",
            "1 of 2 traces are marked dead, the first is trace 2; their samples were read as they stand",
            "1 of 2 traces state a recording delay, the first -3 (bytes 109-110, unit not stated for radar); it"
                + " was not applied: sample 1 is at 0 ns");
  }

  @Test
  void writtenScanComesBackWhole() {
    Scan scan = FORMAT_UNDER_TEST.read(two(20), row(0.02, 0.1, 0.7));
    byte[] bytes = SegyFormat.write(scan, List.of("Invented data"));
    assertThat(FORMAT_UNDER_TEST.read(bytes, row(0.02, 0.1, 0.7))).isEqualTo(scan);
    assertThat(SegyFormat.write(scan, List.of("Invented data"))).isEqualTo(bytes);
    assertThat(FORMAT_UNDER_TEST.remarks(bytes, row(0.02, 0.1, 0.7)))
        .containsExactly(
            "The sample interval in the file, read as microseconds, agrees with the survey table's 0.02 ns");
  }

  private static byte[] two(int interval) {
    return SegyBuild.revision(1, 0)
        .set(INTERVAL, interval)
        .header(TRACE_SAMPLES, 4)
        .samples(1, 2, 3, 4)
        .header(TRACE_SAMPLES, 4)
        .samples(5, 6, 7, 8)
        .bytes();
  }

  /** Two traces with midpoints at two x in millimetres, scalar -1000; units 1: metres, 0: not stated. */
  private static byte[] metres(int units, int first, int last) {
    return metres(units, first, last, 30);
  }

  private static byte[] metres(int units, int first, int last, int half) {
    SegyBuild build = SegyBuild.revision(1, 0).set(INTERVAL, 20).set(MEASUREMENT_SYSTEM, 1);
    for (int x : new int[] {first, last}) {
      build
          .header(
              COORDINATE_UNITS,
              units,
              COORDINATE_SCALAR,
              -1000,
              SOURCE_X,
              x - half,
              GROUP_X,
              x + half)
          .samples(1, 2, 3, 4);
    }
    return build.bytes();
  }

  private static void refuses(byte[] bytes, SurveyRow row, String message) {
    assertThatThrownBy(() -> FORMAT_UNDER_TEST.read(bytes, row))
        .isInstanceOf(ScanFileException.class)
        .hasMessage(message);
  }
}
