package org.slabnote.formats.segy;

import java.util.Arrays;
import java.util.Optional;
import java.util.stream.Collectors;

/**
 * How a sample is stored: the data sample format code of bytes 3225-3226.
 *
 * <p>Code 4 (fixed point with gain), which revision 1 declares obsolete, and the unassigned codes 13 and
 * 14 are not read.
 *
 * @since 0.1
 */
public enum SegySample {
  /** Four-byte IBM hexadecimal floating point. */
  IBM_FLOAT(1, 4) {
    @Override
    double at(SegyBytes bytes, long offset) {
      return ibm(bytes.i32(offset));
    }
  },
  /** Four-byte two's complement integer. */
  INT32(2, 4) {
    @Override
    double at(SegyBytes bytes, long offset) {
      return bytes.i32(offset);
    }
  },
  /** Two-byte two's complement integer. */
  INT16(3, 2) {
    @Override
    double at(SegyBytes bytes, long offset) {
      return bytes.i16(offset);
    }
  },
  /** Four-byte IEEE 754 floating point. */
  FLOAT32(5, 4) {
    @Override
    double at(SegyBytes bytes, long offset) {
      return bytes.f32(offset);
    }
  },
  /** Eight-byte IEEE 754 floating point. */
  FLOAT64(6, 8) {
    @Override
    double at(SegyBytes bytes, long offset) {
      return bytes.f64(offset);
    }
  },
  /** Three-byte two's complement integer. */
  INT24(7, 3) {
    @Override
    double at(SegyBytes bytes, long offset) {
      return bytes.i24(offset);
    }
  },
  /** One-byte two's complement integer. */
  INT8(8, 1) {
    @Override
    double at(SegyBytes bytes, long offset) {
      return bytes.i8(offset);
    }
  },
  /** Eight-byte two's complement integer; beyond 2^53 the nearest double. */
  INT64(9, 8) {
    @Override
    double at(SegyBytes bytes, long offset) {
      return bytes.i64(offset);
    }
  },
  /** Four-byte unsigned integer. */
  UINT32(10, 4) {
    @Override
    double at(SegyBytes bytes, long offset) {
      return bytes.u32(offset);
    }
  },
  /** Two-byte unsigned integer. */
  UINT16(11, 2) {
    @Override
    double at(SegyBytes bytes, long offset) {
      return bytes.u16(offset);
    }
  },
  /** Eight-byte unsigned integer; beyond 2^53 the nearest double. */
  UINT64(12, 8) {
    @Override
    double at(SegyBytes bytes, long offset) {
      long bits = bytes.i64(offset);
      // Halving keeps the lowest bit, so that the one rounding to double is still right.
      return bits >= 0 ? bits : 2.0 * (bits >>> 1 | bits & 1);
    }
  },
  /** Three-byte unsigned integer. */
  UINT24(15, 3) {
    @Override
    double at(SegyBytes bytes, long offset) {
      return bytes.i24(offset) & 0xFF_FFFF;
    }
  },
  /** One-byte unsigned integer. */
  UINT8(16, 1) {
    @Override
    double at(SegyBytes bytes, long offset) {
      return bytes.u8(offset);
    }
  };

  private final int code;
  private final int bytes;

  SegySample(int code, int bytes) {
    this.code = code;
    this.bytes = bytes;
  }

  /** The code in bytes 3225-3226. */
  public int code() {
    return code;
  }

  /** Bytes of a sample. */
  public int bytes() {
    return bytes;
  }

  /** The exact value of the sample that starts at an offset. */
  abstract double at(SegyBytes bytes, long offset);

  /** The storage that a code stands for; empty where it is not read. */
  public static Optional<SegySample> of(int code) {
    return Arrays.stream(values()).filter(sample -> sample.code == code).findFirst();
  }

  /** The codes that are read, as a message lists them. */
  static String codes() {
    return Arrays.stream(values())
        .map(sample -> Integer.toString(sample.code))
        .collect(Collectors.joining(", "));
  }

  /**
   * The value of an IBM System/360 single: {@code (-1)^s 0.f 16^(e - 64)}, s one bit, e seven bits, f 24
   * bits. Exact in a double: 24 bits of fraction, exponents from 16^-64 to 16^63. There is no NaN and no
   * infinity.
   */
  static double ibm(int bits) {
    int fraction = bits & 0xFF_FFFF;
    int exponent = 4 * ((bits >>> 24 & 0x7F) - 64) - 24;
    double value = Math.scalb((double) fraction, exponent);
    return bits < 0 ? -value : value;
  }
}
