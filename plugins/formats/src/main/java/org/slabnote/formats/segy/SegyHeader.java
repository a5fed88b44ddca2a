package org.slabnote.formats.segy;

/**
 * A binary header, read where the standard's byte positions say.
 *
 * <p>Positions count from 1 as in the standard: 3201 to 3600 in the binary file header, 1 to 240 in a
 * trace header or in one of its extensions.
 *
 * @since 0.1
 */
public final class SegyHeader {
  private final SegyBytes bytes;
  private final long offset;
  private final int first;
  private final int size;

  SegyHeader(SegyBytes bytes, long offset, int first, int size) {
    this.bytes = bytes;
    this.offset = offset;
    this.first = first;
    this.size = size;
  }

  /** Where the header starts in the file, counted from 0. */
  public long byteOffset() {
    return offset;
  }

  /** One byte, unsigned. */
  public int uint8(int position) {
    return bytes.u8(at(position, 1));
  }

  /** Two bytes, signed. */
  public int int16(int position) {
    return bytes.i16(at(position, 2));
  }

  /** Two bytes, unsigned. */
  public int uint16(int position) {
    return bytes.u16(at(position, 2));
  }

  /** Four bytes, signed. */
  public int int32(int position) {
    return bytes.i32(at(position, 4));
  }

  /** Four bytes, unsigned. */
  public long uint32(int position) {
    return bytes.u32(at(position, 4));
  }

  /** Eight bytes as they stand; an unsigned field above 2^63 - 1 reads negative. */
  public long int64(int position) {
    return bytes.i64(at(position, 8));
  }

  /** Eight bytes, IEEE 754. */
  public double float64(int position) {
    return bytes.f64(at(position, 8));
  }

  /**
   * A named integer field, sign as the field has it.
   *
   * @throws IllegalArgumentException if the field is a floating-point number, or of another header
   */
  public long get(SegyField field) {
    return switch (field.type()) {
      case UINT8 -> uint8(field.position());
      case INT16 -> int16(field.position());
      case UINT16 -> uint16(field.position());
      case INT32 -> int32(field.position());
      case UINT32 -> uint32(field.position());
      case UINT64 -> int64(field.position());
      case FLOAT64 ->
        throw new IllegalArgumentException(
            field + " is a floating-point number. Read it with getReal");
    };
  }

  /** A named floating-point field; an integer field is converted. */
  public double getReal(SegyField field) {
    return field.type() == SegyField.Type.FLOAT64 ? float64(field.position()) : get(field);
  }

  private long at(int position, int count) {
    if (position < first || position + count > first + size) {
      throw new IllegalArgumentException("SEG-Y header: bytes " + position + "-"
          + (position + count - 1) + "; expected within " + first + "-" + (first + size - 1));
    }
    return offset + position - first;
  }
}
