package org.slabnote.formats.segy;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** Finds the stanzas in a run of 3200-byte records. */
final class SegyStanzas {
  private static final int SIZE = SegyText.SIZE;

  private SegyStanzas() {}

  /** The stanzas in {@code records} records from {@code offset}; the caller checked that they exist. */
  static List<SegyStanza> in(SegyBytes bytes, long offset, int records) {
    List<SegyStanza> stanzas = new ArrayList<>();
    int first = 0;
    while (first < records) {
      int next = first + 1;
      while (next < records && name(bytes, offset + (long) next * SIZE).isEmpty()) {
        next++;
      }
      stanzas.add(stanza(bytes, offset + (long) first * SIZE, next - first));
      first = next;
    }
    return stanzas;
  }

  private static SegyStanza stanza(SegyBytes bytes, long offset, int records) {
    SegyText.Encoding encoding = encoding(bytes, offset);
    String text = SegyText.decode(bytes.copy(offset, records * SIZE), encoding);
    String name = name(bytes, offset).orElse("");
    int start = name.isEmpty() ? 0 : text.indexOf("))") + 2;
    return new SegyStanza(name, encoding, text.substring(start).strip(), offset, records);
  }

  /** The name that starts a record; empty where it starts otherwise. */
  static Optional<String> name(SegyBytes bytes, long offset) {
    byte[] record = bytes.copy(offset, SIZE);
    String text = SegyText.decode(record, encoding(bytes, offset));
    int end = text.indexOf("))");
    return text.startsWith("((") && end > 2
        ? Optional.of(text.substring(2, end).strip())
        : Optional.empty();
  }

  /** Whether a record starts with the stanza that ends an undeclared number of them. */
  static boolean endsText(SegyBytes bytes, long offset) {
    return name(bytes, offset)
        .map(name -> name.replace(" ", "").toUpperCase(Locale.ROOT).equals("SEG:ENDTEXT"))
        .orElse(false);
  }

  private static SegyText.Encoding encoding(SegyBytes bytes, long offset) {
    // 0x4D is the EBCDIC parenthesis and ASCII's M: a stanza opens with two of them.
    if (bytes.u8(offset) == 0x4D && bytes.u8(offset + 1) == 0x4D) {
      return SegyText.Encoding.EBCDIC;
    }
    if (bytes.u8(offset) == '(' && bytes.u8(offset + 1) == '(') {
      return SegyText.Encoding.ASCII;
    }
    return SegyText.encodingOf(bytes.copy(offset, SIZE));
  }
}
