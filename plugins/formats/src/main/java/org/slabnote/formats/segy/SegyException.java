package org.slabnote.formats.segy;

import java.util.OptionalInt;
import java.util.OptionalLong;

/**
 * A SEG-Y file that cannot be read as it is.
 *
 * <p>The message tells people where, what with its value, what was expected and what to do; the fields
 * tell programs the same place.
 *
 * @since 0.1
 */
public final class SegyException extends RuntimeException {
  private static final long serialVersionUID = 1L;

  private final String file;
  private final int trace;
  private final long byteOffset;
  private final String field;
  private final String value;

  /**
   * @param place where in the file
   * @param field the header field at fault, or what else is
   * @param value its value as written
   * @param problem what is wrong, with the value and what was expected; no full stop at the end
   * @param remedy what to do; no full stop at the end
   */
  SegyException(Place place, String field, String value, String problem, String remedy) {
    super(place.text() + ": " + problem + ". " + remedy);
    this.file = place.file();
    this.trace = place.trace();
    this.byteOffset = place.byteOffset();
    this.field = field;
    this.value = value;
  }

  /** The file, as the caller named it. */
  public String file() {
    return file;
  }

  /** The trace, counted from 1; empty where the fault is not in a trace. */
  public OptionalInt trace() {
    return trace > 0 ? OptionalInt.of(trace) : OptionalInt.empty();
  }

  /** Offset from the start of the file in bytes, counted from 0; empty where there is no one place. */
  public OptionalLong byteOffset() {
    return byteOffset >= 0 ? OptionalLong.of(byteOffset) : OptionalLong.empty();
  }

  /** The header field at fault with its bytes, or what else is. */
  public String field() {
    return field;
  }

  /** The value found, as text. */
  public String value() {
    return value;
  }

  /** Where in a file: trace 0 and offset -1 mean none. */
  record Place(String file, int trace, long byteOffset) {
    static Place of(String file) {
      return new Place(file, 0, -1);
    }

    Place atByte(long offset) {
      return new Place(file, trace, offset);
    }

    Place inTrace(int number, long offset) {
      return new Place(file, number, offset);
    }

    String text() {
      String text = file;
      if (trace > 0) {
        text += ", trace " + trace;
      }
      if (byteOffset >= 0) {
        text += (trace > 0 ? " at byte " : ", byte ") + byteOffset;
      }
      return text;
    }
  }
}
