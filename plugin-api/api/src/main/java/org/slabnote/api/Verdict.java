package org.slabnote.api;

/**
 * The four things that can be said of a proposed cut. None of them is a permission.
 *
 * @since 0.1
 */
public enum Verdict {
  /** A target lies within the required clearance, or within the cut. */
  INFRINGES("infringes"),
  /** Nothing was detected within the required clearance, down to the depth that could be seen. */
  NOTHING_DETECTED_WITHIN("nothing detected within"),
  /** The uncertainty spans the required clearance, or an open event lies near. */
  NOT_RESOLVED("not resolved"),
  /** The ground was not scanned, or could not be seen. */
  NOT_SEEN("not seen");

  private final String words;

  Verdict(String words) {
    this.words = words;
  }

  /** Returns the verdict in words. */
  public String words() {
    return words;
  }
}
