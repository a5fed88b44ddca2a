package org.slabnote.formats.segy;

/**
 * EBCDIC code page 037. The JDK's own table sits in an optional module that a cut-down runtime may
 * leave out.
 */
final class Ebcdic {
  /**
   * The printable ASCII character for each byte; NUL where there is none. Blank, then rows from 0x40.
   */
  static final String TO_ASCII = table();

  private Ebcdic() {}

  private static String table() {
    char[] to = new char[256];
    to[0x0D] = '\r';
    to[0x15] = '\n';
    to[0x25] = '\n';
    put(to, 0x40, " ");
    put(to, 0x4B, ".<(+|&");
    put(to, 0x5A, "!$*);");
    put(to, 0x60, "-/");
    put(to, 0x6B, ",%_>?");
    put(to, 0x79, "`:#@'=\"");
    put(to, 0x81, "abcdefghi");
    put(to, 0x91, "jklmnopqr");
    put(to, 0xA1, "~stuvwxyz");
    put(to, 0xB0, "^");
    put(to, 0xBA, "[]");
    put(to, 0xC0, "{ABCDEFGHI");
    put(to, 0xD0, "}JKLMNOPQR");
    put(to, 0xE0, "\\");
    put(to, 0xE2, "STUVWXYZ");
    put(to, 0xF0, "0123456789");
    return new String(to);
  }

  private static void put(char[] to, int from, String characters) {
    for (int i = 0; i < characters.length(); i++) {
      to[from + i] = characters.charAt(i);
    }
  }
}
