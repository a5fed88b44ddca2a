package org.slabnote.formats.segy;

import org.slabnote.api.ScanFileException;

/**
 * Where in a file, for messages: trace 0 and offset -1 mean none.
 *
 * @param file what the caller calls the file
 * @param trace counted from 1
 * @param byteOffset counted from 0
 */
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

  /**
   * What is wrong here.
   *
   * @param problem what was found, with its value, and what was expected; no full stop at the end
   * @param remedy what to do; no full stop at the end
   */
  ScanFileException fault(String problem, String remedy) {
    return new ScanFileException(file, text(), problem + ". " + remedy);
  }

  private String text() {
    if (byteOffset < 0) {
      return trace > 0 ? "trace " + trace : "";
    }
    return (trace > 0 ? "trace " + trace + " at byte " : "byte ") + byteOffset;
  }
}
