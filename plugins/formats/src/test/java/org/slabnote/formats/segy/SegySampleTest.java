package org.slabnote.formats.segy;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.util.HexFormat;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class SegySampleTest {
  /**
   * IBM System/360 Principles of Operation, short form: by hand from sign, 16^(exponent - 64) and the 24
   * bits of fraction. 100 = 0.390625 x 16^2; 118.625 = 0x76.A; smallest and largest by the definition.
   */
  @ParameterizedTest
  @CsvSource({
    "00000000, 0.0",
    "80000000, -0.0",
    "41100000, 1.0",
    "42640000, 100.0",
    "c276a000, -118.625",
    "40400000, 0.25",
    "00100000, 0x1.0p-260",
    "00000001, 0x1.0p-280",
    "7fffffff, 0x1.fffffep251",
    "40199999, 0.09999996423721313"
  })
  void ibmFloatsAreExact(String hex, String value) {
    double decoded = SegySample.ibm((int) Long.parseLong(hex, 16));
    assertThat(Double.doubleToRawLongBits(decoded))
        .isEqualTo(Double.doubleToRawLongBits(Double.parseDouble(value)));
  }

  /** Two's complement and plain binary, by hand, in both byte orders. */
  @ParameterizedTest
  @CsvSource({
    "INT24, 7fffff, 8388607",
    "INT24, 800000, -8388608",
    "INT24, ffffff, -1",
    "INT24, 010203, 66051",
    "UINT24, ffffff, 16777215",
    "UINT24, 800001, 8388609",
    "UINT8, ff, 255",
    "INT8, ff, -1",
    "UINT32, ffffffff, 4294967295",
    "UINT32, 80000000, 2147483648",
    "INT64, ffffffffffffffff, -1",
    "INT64, 0020000000000000, 9007199254740992",
    "UINT64, ffffffffffffffff, 18446744073709551616",
    "UINT64, 8000000000000000, 9223372036854775808",
    "UINT64, 0000000100000000, 4294967296"
  })
  void wholeNumbersAreExact(SegySample sample, String hex, double value) {
    byte[] big = HexFormat.of().parseHex(hex);
    byte[] little = new byte[big.length];
    for (int i = 0; i < big.length; i++) {
      little[i] = big[big.length - 1 - i];
    }
    assertThat(sample.at(new SegyBytes(ByteBuffer.wrap(big), ByteOrder.BIG_ENDIAN), 0))
        .isEqualTo(value);
    assertThat(sample.at(new SegyBytes(ByteBuffer.wrap(little), ByteOrder.LITTLE_ENDIAN), 0))
        .isEqualTo(value);
    assertThat(sample.bytes()).isEqualTo(big.length);
  }

  /** 2^63 + 1025 lies just above the middle of two doubles (spacing 2048): rounds up, by hand. */
  @Test
  void unsignedEightBytesRoundOnce() {
    ByteBuffer bytes = ByteBuffer.allocate(8).putLong(0, 0x8000_0000_0000_0401L);
    assertThat(SegySample.UINT64.at(new SegyBytes(bytes, ByteOrder.BIG_ENDIAN), 0))
        .isEqualTo(0x1.0p63 + 2048);
  }

  @Test
  void codesThatAreNotReadAreEmpty() {
    assertThat(SegySample.of(4)).isEmpty();
    assertThat(SegySample.of(0)).isEmpty();
    assertThat(SegySample.of(13)).isEmpty();
    assertThat(SegySample.codes()).isEqualTo("1, 2, 3, 5, 6, 7, 8, 9, 10, 11, 12, 15, 16");
  }

  /** Positive multiplies, negative divides, 0 means 1 (SEG-Y rev 2, trace header bytes 71-72). */
  @ParameterizedTest
  @CsvSource({"250, -1000, 0.25", "73, 10, 730", "-7, 1, -7", "42, 0, 42", "1, -10000, 0.0001"})
  void scalarsMultiplyOrDivide(long value, long scalar, double scaled) {
    assertThat(SegyTrace.scaled(value, scalar)).isEqualTo(scaled);
  }
}
