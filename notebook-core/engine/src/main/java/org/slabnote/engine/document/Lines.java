package org.slabnote.engine.document;

import java.util.Arrays;

/** Lines of a text whose ends may be {@code \n}, {@code \r\n} or {@code \r}, as CommonMark has it. */
final class Lines {
  private Lines() {}

  /** Offset of each line's first character. A text that ends in a line end has no line after it. */
  static int[] starts(String text) {
    int[] starts = new int[16];
    int count = 1;
    for (int i = 0; i < text.length(); i++) {
      char c = text.charAt(i);
      boolean end =
          c == '\n' || (c == '\r' && !(i + 1 < text.length() && text.charAt(i + 1) == '\n'));
      if (end && i + 1 < text.length()) {
        if (count == starts.length) {
          starts = Arrays.copyOf(starts, 2 * count);
        }
        starts[count++] = i + 1;
      }
    }
    return Arrays.copyOf(starts, count);
  }

  /** Index, from 0, of the line that holds the offset. */
  static int indexAt(int[] starts, int offset) {
    int found = Arrays.binarySearch(starts, offset);
    return found >= 0 ? found : -found - 2;
  }

  /** The text with every line end made {@code \n}. */
  static String unix(String text) {
    return text.replace("\r\n", "\n").replace('\r', '\n');
  }

  /** The line end that the text uses, {@code \n} when it has none. */
  static String end(String text) {
    int n = text.indexOf('\n');
    if (n >= 0) {
      return n > 0 && text.charAt(n - 1) == '\r' ? "\r\n" : "\n";
    }
    return text.indexOf('\r') >= 0 ? "\r" : "\n";
  }
}
