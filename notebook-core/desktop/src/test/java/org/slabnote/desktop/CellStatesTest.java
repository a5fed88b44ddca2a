package org.slabnote.desktop;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.slabnote.engine.document.Document;
import org.slabnote.engine.problem.Problem;
import org.slabnote.engine.trace.OutOfDate;
import org.slabnote.engine.trace.OutOfDate.Stale;

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
    states.completed(TEXT);
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

  private static OutOfDate stale(String cell, String reason) {
    return new OutOfDate(List.of(new Stale(cell, List.of(), List.of(reason))), List.of());
  }

  @Test
  void anEditedCellIsOutOfDateAtOnceAndTheEngineTellsTheRest() {
    ran();
    Document now = with("scans(ACROSS)", "scans(ALONG)");

    assertThat(words(now, "setup")).isEqualTo("out of date: it was edited");
    assertThat(words(now, "velocity")).isEqualTo("done");
    assertThat(states.outOfDate(now)).isTrue();
    states.lookedAt(now, stale("velocity", "cell `setup` was edited"));
    assertThat(words(now, "velocity")).isEqualTo("out of date: cell `setup` was edited");
    assertThat(states.outOfDate(TEXT)).isTrue();
    states.lookedAt(TEXT, OutOfDate.NOTHING);
    assertThat(states.outOfDate(TEXT)).isFalse();
  }

  @Test
  void aFileThatChangedOnDiskIsTold() {
    ran();
    states.lookedAt(TEXT, stale("velocity", "scan E01 changed"));

    assertThat(words(TEXT, "setup")).isEqualTo("done");
    assertThat(words(TEXT, "velocity")).isEqualTo("out of date: scan E01 changed");
    assertThat(states.outOfDate(TEXT)).isTrue();
  }

  @Test
  void aCommentLeavesACellDone() {
    ran();
    Document now = with("var across", "// all\nvar across");
    states.lookedAt(now, new OutOfDate(List.of(), List.of("cell `setup`: only comments")));

    assertThat(words(now, "setup")).isEqualTo("done; only comments or layout changed since");
    assertThat(states.outOfDate(now)).isFalse();
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
