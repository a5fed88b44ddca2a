package org.slabnote.formats.segy;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.charset.Charset;
import java.util.Collections;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

class SegyTextTest {
  /** Outside check: the JDK's own code page 037, for every printable ASCII character. */
  @Test
  void ebcdicIsCodePage037() {
    Charset page = Charset.forName("IBM037");
    for (char c = ' '; c <= '~'; c++) {
      int code = String.valueOf(c).getBytes(page)[0] & 0xFF;
      assertThat(Ebcdic.TO_ASCII.charAt(code)).as("0x%02X", code).isEqualTo(c);
      assertThat(Ebcdic.TO_ASCII.indexOf(c)).isEqualTo(code);
    }
  }

  @ParameterizedTest
  @EnumSource
  void linesComeBackInEitherEncoding(SegyText.Encoding encoding) {
    List<String> lines = List.of("C 1 PASS E04", "", "C 3 x to the right, y down (m)");
    SegyText text = SegyText.of(SegyText.encode(lines, encoding));
    assertThat(text.encoding()).isEqualTo(encoding);
    assertThat(text.lines())
        .hasSize(40)
        .startsWith("C 1 PASS E04", "", "C 3 x to the right, y down (m)");
  }

  @Test
  void whatIsNoCharacterReadsAsBlank() {
    byte[] bytes = new byte[3200];
    bytes[0] = 'A';
    bytes[2] = 'B';
    assertThat(SegyText.of(bytes).lines().get(0)).isEqualTo("A B");
  }

  @Test
  void refusesWhatAHeaderCannotHold() {
    assertThatThrownBy(() -> SegyText.encode(Collections.nCopies(41, "C"), SegyText.Encoding.ASCII))
        .hasMessage("SEG-Y textual header: 41 lines; expected at most 40. Shorten the text");
    assertThatThrownBy(() -> SegyText.encode(List.of("x".repeat(81)), SegyText.Encoding.ASCII))
        .hasMessage("SEG-Y textual header, line 1: 81 characters; expected at most 80."
            + " Shorten the line");
    assertThatThrownBy(
            () -> SegyText.encode(List.of("C 1", "d\u00e9j\u00e0"), SegyText.Encoding.EBCDIC))
        .hasMessage(
            "SEG-Y textual header, line 2, character 2: '\u00e9'; expected printable ASCII, as the"
                + " header holds nothing else. Write it in plain letters");
  }
}
