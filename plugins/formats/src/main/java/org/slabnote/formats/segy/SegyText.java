package org.slabnote.formats.segy;

import java.util.ArrayList;
import java.util.List;

/**
 * A 3200-byte textual header: 40 lines of 80 characters.
 *
 * @param encoding how the bytes were read
 * @param lines 40 lines, blanks at the end cut; bytes that are no printable character read as blanks
 * @since 0.1
 */
public record SegyText(Encoding encoding, List<String> lines) {
  static final int SIZE = 3200;
  private static final int LINE = 80;

  /** How characters are stored. */
  public enum Encoding {
    /** EBCDIC, code page 037. */
    EBCDIC,
    /** ASCII. */
    ASCII
  }

  public SegyText {
    lines = List.copyOf(lines);
  }

  /** Reads a header of 3200 bytes in whichever encoding gives more letters, digits and blanks. */
  static SegyText of(byte[] bytes) {
    Encoding encoding = encodingOf(bytes);
    String text = decode(bytes, encoding);
    List<String> lines = new ArrayList<>();
    for (int start = 0; start < text.length(); start += LINE) {
      lines.add(text.substring(start, Math.min(text.length(), start + LINE)).stripTrailing());
    }
    return new SegyText(encoding, lines);
  }

  /** The likelier encoding: the one with more letters, digits and blanks; ASCII where they tie. */
  static Encoding encodingOf(byte[] bytes) {
    return plain(bytes, Encoding.EBCDIC) > plain(bytes, Encoding.ASCII)
        ? Encoding.EBCDIC
        : Encoding.ASCII;
  }

  private static int plain(byte[] bytes, Encoding encoding) {
    int count = 0;
    for (byte one : bytes) {
      char c = character(one, encoding);
      if (c == ' ' || c >= '0' && c <= '9' || c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z') {
        count++;
      }
    }
    return count;
  }

  /** Whether at least nine in ten bytes are printable characters of one encoding. */
  static boolean looksLikeText(byte[] bytes) {
    Encoding encoding = encodingOf(bytes);
    int printable = 0;
    for (byte one : bytes) {
      char c = character(one, encoding);
      if (c >= ' ' && c <= '~' || c == '\r' || c == '\n') {
        printable++;
      }
    }
    return 10L * printable >= 9L * bytes.length;
  }

  /** Characters of one encoding; what is not printable becomes a blank, line ends stay. */
  static String decode(byte[] bytes, Encoding encoding) {
    StringBuilder text = new StringBuilder(bytes.length);
    for (byte one : bytes) {
      char c = character(one, encoding);
      text.append(c >= ' ' && c <= '~' || c == '\n' || c == '\r' ? c : ' ');
    }
    return text.toString();
  }

  /**
   * A header's bytes: each line filled with blanks to 80, up to 40 lines.
   *
   * @throws IllegalArgumentException if there are more than 40 lines, a line is longer than 80
   *     characters, or holds a character other than printable ASCII
   */
  static byte[] encode(List<String> lines, Encoding encoding) {
    if (lines.size() > SIZE / LINE) {
      throw new IllegalArgumentException("SEG-Y textual header: " + lines.size()
          + " lines; expected at most 40. Shorten the text");
    }
    byte[] bytes = new byte[SIZE];
    java.util.Arrays.fill(bytes, code(' ', encoding));
    for (int i = 0; i < lines.size(); i++) {
      String line = lines.get(i);
      if (line.length() > LINE) {
        throw new IllegalArgumentException("SEG-Y textual header, line " + (i + 1) + ": "
            + line.length() + " characters; expected at most 80. Shorten the line");
      }
      for (int j = 0; j < line.length(); j++) {
        char c = line.charAt(j);
        if (c < ' ' || c > '~') {
          throw new IllegalArgumentException("SEG-Y textual header, line " + (i + 1)
              + ", character " + (j + 1) + ": '" + c + "'; expected printable ASCII, as the header"
              + " holds nothing else. Write it in plain letters");
        }
        bytes[i * LINE + j] = code(c, encoding);
      }
    }
    return bytes;
  }

  private static char character(byte one, Encoding encoding) {
    return encoding == Encoding.ASCII ? (char) (one & 0xFF) : Ebcdic.TO_ASCII.charAt(one & 0xFF);
  }

  private static byte code(char c, Encoding encoding) {
    return (byte) (encoding == Encoding.ASCII ? c : Ebcdic.TO_ASCII.indexOf(c));
  }
}
