package org.slabnote.formats.segy;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.ByteOrder;
import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;

class SegyWriterTest {
  private static final SegyWriter.Place PLACE = new SegyWriter.Place(0.22, -0.4, 0.28, -0.4);

  private static SegyWriter floats(int samples) {
    return new SegyWriter(
        List.of("C 1 INVENTED"), SegyText.Encoding.EBCDIC, SegySample.FLOAT32, 2e-5, samples);
  }

  @Test
  void whatWasWrittenIsRead() {
    byte[] bytes = floats(3)
        .add(new double[] {0.5, -0.0, 1e-45f}, PLACE)
        .add(
            new double[] {-3.4028234663852886e38, 0.1f, 7},
            new SegyWriter.Place(0.2305, 0, 0.2905, 0))
        .bytes();
    SegyFile file = SegyFile.of("out.sgy", bytes);
    assertThat(file.revision()).hasToString("2.0");
    assertThat(file.byteOrder()).isEqualTo(ByteOrder.BIG_ENDIAN);
    assertThat(file.sample()).isEqualTo(SegySample.FLOAT32);
    assertThat(file.text().encoding()).isEqualTo(SegyText.Encoding.EBCDIC);
    assertThat(file.text().lines().get(0)).isEqualTo("C 1 INVENTED");
    assertThat(file.traceCount()).isEqualTo(2);
    assertThat(file.trace(0).samples()).containsExactly(0.5, -0.0, 1e-45f);
    assertThat(file.trace(1).samples()).containsExactly(-3.4028234663852886e38, 0.1f, 7);
    assertThat(file.trace(0).sourceX()).isEqualTo(0.22);
    assertThat(file.trace(0).groupY()).isEqualTo(-0.4);
    assertThat(file.trace(0).midpointX()).isEqualTo(0.25);
    assertThat(file.trace(1).midpointX()).isEqualTo(0.2605);
    assertThat(file.header().getReal(SegyField.WIDE_INTERVAL)).isEqualTo(2e-5);
    assertThat(file.header().get(SegyField.INTERVAL)).isZero();
    assertThat(file.remarks()).isEmpty();
  }

  /** Byte positions by the tables of SEG-Y rev 2.0, read here without the reader. */
  @Test
  void fieldsStandWhereTheStandardPutsThem() {
    byte[] b = floats(2).add(new double[] {1, 2}, PLACE).bytes();
    assertThat(b).hasSize(3600 + 240 + 8);
    assertThat(Arrays.copyOfRange(b, 3224, 3226)).containsExactly(0, 5);
    assertThat(Arrays.copyOfRange(b, 3254, 3256)).containsExactly(0, 1);
    assertThat(Arrays.copyOfRange(b, 3268, 3272)).containsExactly(0, 0, 0, 2);
    // 2e-5 as IEEE 754: 3EF4F8B588E368F1.
    assertThat(Arrays.copyOfRange(b, 3272, 3280))
        .containsExactly(0x3E, 0xF4, 0xF8, 0xB5, 0x88, 0xE3, 0x68, 0xF1);
    assertThat(Arrays.copyOfRange(b, 3296, 3300)).containsExactly(1, 2, 3, 4);
    assertThat(Arrays.copyOfRange(b, 3500, 3504)).containsExactly(2, 0, 0, 1);
    assertThat(Arrays.copyOfRange(b, 3512, 3520)).containsExactly(0, 0, 0, 0, 0, 0, 0, 1);
    assertThat(Arrays.copyOfRange(b, 3520, 3528)).containsExactly(0, 0, 0, 0, 0, 0, 0x0E, 0x10);
    assertThat(Arrays.copyOfRange(b, 3600 + 70, 3600 + 76))
        .containsExactly(0xD8, 0xF0, 0, 0, 8, 0x98);
    assertThat(Arrays.copyOfRange(b, 3600 + 240, 3600 + 244)).containsExactly(0x3F, 0x80, 0, 0);
  }

  @Test
  void sameInputSameBytes() {
    assertThat(floats(2).add(new double[] {1, 2}, PLACE).bytes())
        .isEqualTo(floats(2).add(new double[] {1, 2}, PLACE).bytes());
  }

  @Test
  void wholeMicrosecondsStandInTheTwoByteFieldToo() {
    SegyWriter writer =
        new SegyWriter(List.of(), SegyText.Encoding.ASCII, SegySample.INT16, 4000, 2);
    SegyFile file =
        SegyFile.of("out.sgy", writer.add(new double[] {-32768, 32767}, PLACE).bytes());
    assertThat(file.header().get(SegyField.INTERVAL)).isEqualTo(4000);
    assertThat(file.trace(0).header().get(SegyField.TRACE_INTERVAL)).isEqualTo(4000);
    assertThat(file.trace(0).samples()).containsExactly(-32768, 32767);
    assertThat(file.text().encoding()).isEqualTo(SegyText.Encoding.ASCII);
  }

  @Test
  void moreSamplesThanTwoBytesCountAreReadBack() {
    double[] samples = new double[70_000];
    samples[69_999] = 5;
    SegyFile file = SegyFile.of(
        "out.sgy", floats(70_000).add(samples, PLACE).add(samples, PLACE).bytes());
    assertThat(file.trace(1).samples()).hasSize(70_000).endsWith(5);
  }

  @Test
  void everyPrefixIsRefusedSinceTheNumberOfTracesIsStated() {
    byte[] good = floats(6).add(new double[6], PLACE).add(new double[6], PLACE).bytes();
    for (int length = 0; length < good.length; length++) {
      assertThat(Damage.reads("cut", Arrays.copyOf(good, length)))
          .as("cut after %d", length)
          .isFalse();
    }
    assertThat(Damage.reads("whole", good)).isTrue();
  }

  @Test
  void refusesWhatTheFormatCannotHold() {
    assertThatThrownBy(() -> floats(2).add(new double[] {1}, PLACE))
        .hasMessage(
            "SEG-Y writer, trace 1: 1 samples; expected 2, as stated for the file. Cut or pad the trace");
    assertThatThrownBy(() -> floats(1).add(new double[] {Double.NaN}, PLACE))
        .hasMessage(
            "SEG-Y writer, trace 1, sample 1: NaN; expected a finite number that a four-byte float holds."
                + " Scale, or repair the trace");
    SegyWriter whole = new SegyWriter(List.of(), SegyText.Encoding.ASCII, SegySample.INT16, 1, 1);
    assertThatThrownBy(() -> whole.add(new double[] {0.5}, PLACE))
        .hasMessage(
            "SEG-Y writer, trace 1, sample 1: 0.5; expected a whole number from -32768 to 32767. Scale and"
                + " round, or write FLOAT32");
    assertThatThrownBy(() -> floats(1).add(new double[1], new SegyWriter.Place(0, 0, 3e5, 0)))
        .hasMessage(
            "SEG-Y writer, trace 1: coordinate 300000 m; expected a number within 214 km. Use the slab frame");
    assertThatThrownBy(
            () -> new SegyWriter(List.of(), SegyText.Encoding.ASCII, SegySample.INT8, 1, 1))
        .hasMessage(
            "SEG-Y writer: sample format INT8; expected FLOAT32 or INT16. Choose one of these");
    assertThatThrownBy(
            () -> new SegyWriter(List.of(), SegyText.Encoding.ASCII, SegySample.INT16, 0, 1))
        .hasMessage(
            "SEG-Y writer: sample interval 0 us; expected a number above 0. State the interval");
    assertThatThrownBy(() -> floats(0))
        .hasMessage(
            "SEG-Y writer: 0 samples in a trace; expected at least 1. Leave empty traces out");
  }
}
