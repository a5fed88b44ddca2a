package org.slabnote.formats.segy;

/**
 * Revision of the standard that a file says it keeps.
 *
 * @param major 0, 1 or 2
 * @param minor number after the point
 * @since 0.1
 */
public record SegyRevision(int major, int minor) {
  /** Written as in {@code 2.1}. */
  @Override
  public String toString() {
    return major + "." + minor;
  }

  boolean isAtLeast(int otherMajor, int otherMinor) {
    return major > otherMajor || major == otherMajor && minor >= otherMinor;
  }
}
