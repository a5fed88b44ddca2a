package org.slabnote.formats.segy;

import java.io.ByteArrayOutputStream;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;

/** Puts a SEG-Y file together field by field, right or wrong as a test wants it. */
public final class SegyBuild {
  private final ByteOrder order;
  private final ByteArrayOutputStream out = new ByteArrayOutputStream();
  private final ByteBuffer head;

  private SegyBuild(ByteOrder order) {
    this.order = order;
    this.head = ByteBuffer.allocate(3600).order(order);
    byte[] text = SegyText.encode(java.util.List.of("C 1 INVENTED"), SegyText.Encoding.ASCII);
    head.put(0, text);
  }

  /** Format 3 (two-byte integers), four samples a trace, revision as given. */
  public static SegyBuild revision(int major, int minor) {
    return revision(major, minor, ByteOrder.BIG_ENDIAN);
  }

  static SegyBuild revision(int major, int minor, ByteOrder order) {
    return new SegyBuild(order)
        .set(SegyField.REVISION_MAJOR, major)
        .set(SegyField.REVISION_MINOR, minor)
        .set(SegyField.FORMAT, 3)
        .set(SegyField.SAMPLES, 4);
  }

  /** Sets a field of the binary file header. */
  public SegyBuild set(SegyField field, double value) {
    put(head, field, value);
    return this;
  }

  /** Appends a 3200-byte record of text. */
  public SegyBuild record(String text) {
    return raw(Arrays.copyOf(text.getBytes(StandardCharsets.US_ASCII), 3200));
  }

  SegyBuild ebcdicRecord(String text) {
    return raw(SegyText.encode(java.util.List.of(text), SegyText.Encoding.EBCDIC));
  }

  public SegyBuild raw(byte... bytes) {
    out.writeBytes(bytes);
    return this;
  }

  /** Appends a 240-byte header with some fields set. */
  public SegyBuild header(Object... fieldsAndValues) {
    ByteBuffer header = ByteBuffer.allocate(240).order(order);
    for (int i = 0; i < fieldsAndValues.length; i += 2) {
      SegyField field = (SegyField) fieldsAndValues[i];
      put(header, field, ((Number) fieldsAndValues[i + 1]).doubleValue());
      if (field.place() == SegyField.Place.EXTENSION) {
        header.put(232, "SEG00001".getBytes(StandardCharsets.US_ASCII));
      }
    }
    return raw(header.array());
  }

  /** Appends two-byte samples. */
  public SegyBuild samples(int... samples) {
    ByteBuffer data = ByteBuffer.allocate(2 * samples.length).order(order);
    for (int sample : samples) {
      data.putShort((short) sample);
    }
    return raw(data.array());
  }

  /** Appends four-byte IEEE samples. */
  public SegyBuild floats(float... samples) {
    ByteBuffer data = ByteBuffer.allocate(4 * samples.length).order(order);
    for (float sample : samples) {
      data.putFloat(sample);
    }
    return raw(data.array());
  }

  public byte[] bytes() {
    ByteBuffer all = ByteBuffer.allocate(3600 + out.size());
    return all.put(head.array()).put(out.toByteArray()).array();
  }

  SegyFile open() {
    return SegyFile.of("E07.sgy", bytes());
  }

  private static void put(ByteBuffer to, SegyField field, double value) {
    int at = field.position() - 1;
    switch (field.type()) {
      case UINT8 -> to.put(at, (byte) value);
      case INT16, UINT16 -> to.putShort(at, (short) (long) value);
      case INT32, UINT32 -> to.putInt(at, (int) (long) value);
      case UINT64 -> to.putLong(at, (long) value);
      case FLOAT64 -> to.putDouble(at, value);
    }
  }
}
