package org.slabnote.engine.document;

/**
 * A stretch of the notebook's text.
 *
 * @param start offset of the first character
 * @param end offset after the last character
 * @param firstLine line of the first character, from 1
 * @param lines number of lines; 0 for an empty block's content
 * @since 0.1
 */
public record Span(int start, int end, int firstLine, int lines) {
  /** Checks the order of the ends. */
  public Span {
    if (start < 0 || end < start || firstLine < 1 || lines < 0) {
      throw new IllegalArgumentException(
          "span " + start + " to " + end + " at line " + firstLine + " is not in order");
    }
  }

  /** The stretch itself. */
  public String of(String text) {
    return text.substring(start, end);
  }
}
