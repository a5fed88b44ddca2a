package org.slabnote.formats.segy;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * A trace in a {@link SegyFile}: its headers as they stand and its samples as exact values.
 *
 * @since 0.1
 */
public final class SegyTrace {
  static final int HEADER = 240;

  private final SegyBytes bytes;
  private final SegySample sample;
  private final int index;
  private final long offset;
  private final int headers;
  private final int count;

  SegyTrace(SegyBytes bytes, SegySample sample, int index, long offset, int headers, int count) {
    this.bytes = bytes;
    this.sample = sample;
    this.index = index;
    this.offset = offset;
    this.headers = headers;
    this.count = count;
  }

  /** Place in the file, counted from 1. */
  public int number() {
    return index + 1;
  }

  /** Where the trace header starts in the file, counted from 0. */
  public long byteOffset() {
    return offset;
  }

  /** Where a sample starts in the file, counted from 0. */
  public long byteOffset(int sampleIndex) {
    return offset + (long) headers * HEADER + (long) sampleIndex * sample.bytes();
  }

  /** The trace header. */
  public SegyHeader header() {
    return new SegyHeader(bytes, offset, 1, HEADER);
  }

  /** The extensions of the trace header, in order; the first may be of the standard's own layout. */
  public List<SegyHeader> extensions() {
    List<SegyHeader> extensions = new ArrayList<>();
    for (int i = 1; i < headers; i++) {
      extensions.add(new SegyHeader(bytes, offset + (long) i * HEADER, 1, HEADER));
    }
    return List.copyOf(extensions);
  }

  /** The first extension, where it is the one whose layout the standard gives (named SEG00001). */
  public Optional<SegyHeader> standardExtension() {
    return headers > 1 && SegyTraces.isStandardExtension(bytes, offset + HEADER)
        ? Optional.of(new SegyHeader(bytes, offset + HEADER, 1, HEADER))
        : Optional.empty();
  }

  /** Number of samples. */
  public int sampleCount() {
    return count;
  }

  /** The samples in the file's own values, exactly; see {@link SegySample} for eight-byte integers. */
  public double[] samples() {
    double[] samples = new double[count];
    long first = byteOffset(0);
    for (int i = 0; i < count; i++) {
      samples[i] = sample.at(bytes, first + (long) i * sample.bytes());
    }
    return samples;
  }

  /** Source x with its scalar applied, in the file's unit of length. */
  public double sourceX() {
    return coordinate(SegyField.SOURCE_X, SegyField.X_SOURCE_X);
  }

  /** Source y with its scalar applied, in the file's unit of length. */
  public double sourceY() {
    return coordinate(SegyField.SOURCE_Y, SegyField.X_SOURCE_Y);
  }

  /** Receiver group x with its scalar applied, in the file's unit of length. */
  public double groupX() {
    return coordinate(SegyField.GROUP_X, SegyField.X_GROUP_X);
  }

  /** Receiver group y with its scalar applied, in the file's unit of length. */
  public double groupY() {
    return coordinate(SegyField.GROUP_Y, SegyField.X_GROUP_Y);
  }

  /** Midpoint x (CDP X) with its scalar applied, in the file's unit of length. */
  public double midpointX() {
    return coordinate(SegyField.CDP_X, SegyField.X_CDP_X);
  }

  /** Midpoint y (CDP Y) with its scalar applied, in the file's unit of length. */
  public double midpointY() {
    return coordinate(SegyField.CDP_Y, SegyField.X_CDP_Y);
  }

  /** The extended field, which takes no scalar, unless it is 0 or absent; else the four-byte one. */
  private double coordinate(SegyField field, SegyField wide) {
    double value = standardExtension().map(extension -> extension.getReal(wide)).orElse(0.0);
    return value != 0
        ? value
        : scaled(header().get(field), header().get(SegyField.COORDINATE_SCALAR));
  }

  /** Positive scalars multiply, negative ones divide, 0 means 1 (SEG-Y rev 2, trace header 71-72). */
  static double scaled(long value, long scalar) {
    if (scalar < 0) {
      return value / (double) -scalar;
    }
    return scalar > 0 ? (double) value * scalar : value;
  }
}
