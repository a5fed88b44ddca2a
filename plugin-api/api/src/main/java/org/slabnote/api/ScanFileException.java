package org.slabnote.api;

/**
 * A scan file that cannot be read as it stands.
 *
 * @since 0.1
 */
public final class ScanFileException extends RuntimeException {
  private static final long serialVersionUID = 1L;
  private final String file;
  private final String place;

  /**
   * Makes the exception.
   *
   * @param file file as named in the survey table
   * @param place where in it: trace, byte offset, header field; or empty
   * @param what what was found, with the value, what was expected, what to do
   */
  public ScanFileException(String file, String place, String what) {
    super(file + (place.isEmpty() ? "" : ", " + place) + ": " + what);
    this.file = file;
    this.place = place;
  }

  /** Returns the file. */
  public String file() {
    return file;
  }

  /** Returns the place in the file; empty where the whole file is meant. */
  public String place() {
    return place;
  }
}
