package org.slabnote.desktop;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Map;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.slabnote.engine.document.Document;
import org.slabnote.engine.problem.Problem;

class CellStatesTest {
  private static final Document TEXT = document(SlabFixture.NOTEBOOK);
  private final CellStates states = new CellStates();

  private static Document document(String text) {
    return Document.parse("interpretation.md", text);
  }

  private static Document with(String old, String now) {
    assertThat(SlabFixture.NOTEBOOK).contains(old);
    return document(SlabFixture.NOTEBOOK.replace(old, now));
  }

  private void ran() {
    states.completed(TEXT, Map.of("velocity", Set.of("picks-E01")));
  }

  private String words(Document now, String cell) {
    return states.of(now).get(cell).words();
  }

  @Test
  void openedIsNotRun() {
    assertThat(words(TEXT, "setup")).isEqualTo("not run");
    assertThat(states.outOfDate(TEXT)).isFalse();
  }

  @Test
  void aRunWaitsThenIsDone() {
    states.started();
    states.live("setup", CellStatus.running("running 40 %"));
    assertThat(words(TEXT, "setup")).isEqualTo("running 40 %");
    assertThat(words(TEXT, "velocity")).isEqualTo("waiting");

    ran();
    assertThat(words(TEXT, "velocity")).isEqualTo("done");
  }

  @Test
  void aChangedCellMakesThoseBelowOutOfDate() {
    ran();
    Document now = with("scans(ACROSS)", "scans(ALONG)");

    assertThat(words(now, "setup")).isEqualTo("out of date: its text changed since the run");
    assertThat(words(now, "velocity"))
        .isEqualTo("out of date: cell setup above changed since the run");
    assertThat(states.outOfDate(now)).isTrue();
    assertThat(states.outOfDate(TEXT)).isFalse();
  }

  @Test
  void aChangedPickMakesItsReaderOutOfDateAndNoOther() {
    ran();
    Document now = with("E01,0.2000,2.0000", "E01,0.2000,2.1000");

    assertThat(words(now, "setup")).isEqualTo("done");
    assertThat(words(now, "velocity"))
        .isEqualTo("out of date: data picks-E01 changed since the run");
  }

  @Test
  void aCellThatWentMakesThoseBelowOutOfDate() {
    ran();
    Document now = with("```java setup\nvar across = scans(ACROSS);\n```\n", "");

    assertThat(words(now, "velocity")).isEqualTo("out of date: cell setup is no longer above it");
  }

  @Test
  void proseChangesNothing() {
    ran();
    Document now = with("doubtful", "settled");

    assertThat(states.outOfDate(now)).isFalse();
  }

  @Test
  void aRefusalIsToldWithItsLine() {
    states.ended(List.of(new Problem(
        Problem.Kind.REFUSED, "interpretation.md", 6, "setup", "java.io.File may not be used")));

    assertThat(words(TEXT, "setup")).isEqualTo("refused, line 6: java.io.File may not be used");
    assertThat(words(TEXT, "velocity")).isEqualTo("not run: the run stopped");
  }
}
