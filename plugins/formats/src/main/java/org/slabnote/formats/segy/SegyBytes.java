package org.slabnote.formats.segy;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;

/** Numbers at absolute offsets of a file's bytes, in one byte order; never moves a position. */
final class SegyBytes {
  private final ByteBuffer buffer;

  SegyBytes(ByteBuffer buffer, ByteOrder order) {
    this.buffer = buffer.duplicate().order(order);
  }

  SegyBytes in(ByteOrder order) {
    return new SegyBytes(buffer, order);
  }

  ByteOrder order() {
    return buffer.order();
  }

  long length() {
    return buffer.limit();
  }

  byte i8(long offset) {
    return buffer.get(Math.toIntExact(offset));
  }

  int u8(long offset) {
    return i8(offset) & 0xFF;
  }

  short i16(long offset) {
    return buffer.getShort(Math.toIntExact(offset));
  }

  int u16(long offset) {
    return i16(offset) & 0xFFFF;
  }

  /** Three bytes as a signed number. */
  int i24(long offset) {
    boolean big = order() == ByteOrder.BIG_ENDIAN;
    int high = i8(big ? offset : offset + 2);
    return high << 16 | u8(offset + 1) << 8 | u8(big ? offset + 2 : offset);
  }

  int i32(long offset) {
    return buffer.getInt(Math.toIntExact(offset));
  }

  long u32(long offset) {
    return i32(offset) & 0xFFFF_FFFFL;
  }

  long i64(long offset) {
    return buffer.getLong(Math.toIntExact(offset));
  }

  float f32(long offset) {
    return buffer.getFloat(Math.toIntExact(offset));
  }

  double f64(long offset) {
    return buffer.getDouble(Math.toIntExact(offset));
  }

  /** A copy of {@code count} bytes; the caller has checked that they exist. */
  byte[] copy(long offset, int count) {
    byte[] bytes = new byte[count];
    buffer.duplicate().position(Math.toIntExact(offset)).get(bytes);
    return bytes;
  }
}
