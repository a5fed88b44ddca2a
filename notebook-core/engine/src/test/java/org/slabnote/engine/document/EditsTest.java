package org.slabnote.engine.document;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import org.junit.jupiter.api.Test;

class EditsTest {
  private static final String TEXT =
      "Words\r\n```csv picks\r\npass,distance_m,time_ns\r\nE04,0.31,2.4\r\n```\r\n"
          + "```java fit\r\nvar a = 1;\r\n```\r\n";
  private static final Document DOCUMENT = Document.parse("interpretation.md", TEXT);

  @Test
  void appendsARowAtTheEndOfTheBlockWithTheTextsOwnLineEnd() {
    assertThat(Edits.appendRow(DOCUMENT, "picks", "E04,0.35,2.5"))
        .isEqualTo(TEXT.replace("2.4\r\n", "2.4\r\nE04,0.35,2.5\r\n"));
  }

  @Test
  void removesARow() {
    assertThat(Edits.removeRow(DOCUMENT, "picks", 1))
        .isEqualTo(TEXT.replace("E04,0.31,2.4\r\n", ""));
    assertThatThrownBy(() -> Edits.removeRow(DOCUMENT, "picks", 2))
        .hasMessage("csv block picks has 2 lines; there is no line 2, counted from 0");
  }

  @Test
  void replacesACell() {
    assertThat(Edits.replace(DOCUMENT, "fit", "var a = 2;\nvar b = 3;"))
        .isEqualTo(TEXT.replace("var a = 1;\r\n", "var a = 2;\r\nvar b = 3;\r\n"));
  }

  @Test
  void addsABlockBeforeACell() {
    assertThat(Edits.addData(DOCUMENT, "notes", "pass,text", "fit"))
        .isEqualTo(
            TEXT.replace("```java fit", "```csv notes\r\npass,text\r\n```\r\n\r\n```java fit"));
  }

  @Test
  void refusesABlockThatIsNotThere() {
    assertThatThrownBy(() -> Edits.appendRow(DOCUMENT, "fit", "x"))
        .hasMessage("the notebook has no csv block named fit");
  }
}
