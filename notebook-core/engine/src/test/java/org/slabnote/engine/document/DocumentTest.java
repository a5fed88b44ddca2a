package org.slabnote.engine.document;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.time.Duration;
import org.junit.jupiter.api.Assertions;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.slabnote.engine.problem.BadInput;

class DocumentTest {
  private static final String GOOD = """
      # Roof slab
      First words.

      ```java clean
      var a = 1;
      var b = 2;
      ```
      Between.

      ```csv picks-E04
      pass,distance_m,time_ns
      E04,0.31,2.4
      ```

      ```text
      only an example
      ```
      ~~~java velocity
      var v = a + b;
      ~~~
      Last.
      """;

  @Test
  void cutsTheTextIntoBlocksThatTogetherAreTheText() {
    Document document = Document.parse("interpretation.md", GOOD);
    assertThat(document.problems()).isEmpty();
    StringBuilder joined = new StringBuilder();
    document.blocks().forEach(block -> joined.append(block.span().of(GOOD)));
    assertThat(joined).hasToString(GOOD);
    assertThat(document.cells()).extracting(Block.Cell::name).containsExactly("clean", "velocity");
    assertThat(document.data()).extracting(Block.Data::name).containsExactly("picks-E04");
  }

  @ParameterizedTest
  @ValueSource(strings = {"\n", "\r\n", "\r"})
  void givesTheLineInTheFileWhateverTheLineEnds(String end) {
    Document document = Document.parse("interpretation.md", GOOD.replace("\n", end));
    Block.Cell clean = document.cells().get(0);
    assertThat(clean.content().firstLine()).isEqualTo(5);
    assertThat(clean.span().firstLine()).isEqualTo(4);
    assertThat(clean.source()).isEqualTo("var a = 1;\nvar b = 2;\n");
    assertThat(document.cells().get(1).content().firstLine()).isEqualTo(19);
    assertThat(document.cells().get(1).source()).isEqualTo("var v = a + b;\n");
  }

  @Test
  void takesAnEmptyCell() {
    Document document = Document.parse("interpretation.md", "```java nothing\n```\n");
    assertThat(document.cells().get(0).source()).isEmpty();
    assertThat(document.cells().get(0).content().lines()).isZero();
  }

  @Test
  void takesACellThatEndsWithTheFile() {
    Document document = Document.parse("interpretation.md", "```java last\nvar a = 1;\n```");
    assertThat(document.problems()).isEmpty();
    assertThat(document.cells().get(0).source()).isEqualTo("var a = 1;\n");
  }

  @Test
  void refusesACellWithoutAName() {
    assertThat(onlyProblem("Words\n\n```java\nvar a = 1;\n```\n"))
        .isEqualTo("interpretation.md, line 3: this cell has no name. "
            + "Write the name behind the language: ```java velocity");
  }

  @Test
  void refusesDataWithoutAName() {
    assertThat(onlyProblem("```csv\na,b\n```\n"))
        .isEqualTo("interpretation.md, line 1: this csv block has no name. "
            + "Write the name behind the language: ```csv picks-E04");
  }

  @Test
  void refusesANameGivenTwiceAndNamesBothLines() {
    assertThat(onlyProblem("```java a\n```\n\n```csv a\n```\n"))
        .isEqualTo("cell a, line 4: the name a is taken by the block at line 1. "
            + "Give one of the two another name");
  }

  @Test
  void refusesAFenceThatIsNeverClosed() {
    assertThat(onlyProblem("```java a\nvar x = 1;\n\nmore prose\n"))
        .isEqualTo("cell a, line 1: the block that opens here is never closed. "
            + "Put a line of ``` after its last line");
  }

  @Test
  void refusesASecondWordAndAnOddName() {
    assertThat(onlyProblem("```java a b\n```\n"))
        .isEqualTo("cell a, line 1: \"b\" stands after the name; expected one name only. "
            + "A name is letters, digits, - and _, and begins with a letter");
    assertThat(onlyProblem("```java a/b\n```\n"))
        .isEqualTo("interpretation.md, line 1: \"a/b\" cannot be the name of a cell. "
            + "A name is letters, digits, - and _, and begins with a letter");
  }

  @Test
  void refusesACellInsideAList() {
    assertThat(onlyProblem("- point\n\n  ```java a\n  var x = 1;\n  ```\n"))
        .isEqualTo("cell a, line 3: the block stands inside a list or a quotation. "
            + "Move its lines to the left margin, with an empty line before");
  }

  @Test
  void everyPrefixOfAGoodNotebookIsCutWithoutAnException() {
    for (int end = 0; end <= GOOD.length(); end++) {
      String prefix = GOOD.substring(0, end);
      StringBuilder joined = new StringBuilder();
      Document.parse("interpretation.md", prefix)
          .blocks()
          .forEach(block -> joined.append(block.span().of(prefix)));
      assertThat(joined).hasToString(prefix);
    }
  }

  @Test
  void aHundredThousandLinesTakeUnderTwoSeconds() {
    String text = "```java a\n" + "var x = 1;\n".repeat(100_000) + "```\n";
    Assertions.assertTimeout(
        Duration.ofSeconds(2), () -> Document.parse("interpretation.md", text));
  }

  @Test
  void orRefuseThrowsWhatIsWrong() {
    assertThatThrownBy(
            () -> Document.parse("interpretation.md", "```csv\n```\n").orRefuse())
        .isInstanceOf(BadInput.class)
        .hasMessageStartingWith("interpretation.md, line 1: this csv block has no name.");
  }

  private static String onlyProblem(String text) {
    Document document = Document.parse("interpretation.md", text);
    assertThat(document.problems()).hasSize(1);
    return document.problems().get(0).toString();
  }
}
