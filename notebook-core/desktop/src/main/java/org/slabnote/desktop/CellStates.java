package org.slabnote.desktop;

import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.slabnote.engine.document.Block;
import org.slabnote.engine.document.Document;
import org.slabnote.engine.problem.Problem;
import org.slabnote.engine.trace.OutOfDate;

/**
 * Tells where each cell stands: by what is known to be wrong, and by what the engine says is out of date
 * since the run. Until the engine has looked at the text as it is, a cell whose own text is another than
 * in the run counts as edited, and the others stand as they did.
 */
final class CellStates {
  private @Nullable Document ran;
  private Document lookedAt = Document.parse("", "");
  private OutOfDate outOfDate = OutOfDate.NOTHING;
  private List<Problem> problems = List.of();
  private boolean stopped;
  private boolean running;
  private final Map<String, CellStatus> live = new HashMap<>();

  /** A run begins: every cell waits. */
  void started() {
    running = true;
    live.clear();
    problems = List.of();
  }

  /** A cell of the run under way goes on. */
  void live(String cell, CellStatus status) {
    live.put(cell, status);
  }

  /** A run of a text is complete. */
  void completed(Document text) {
    running = false;
    stopped = false;
    ran = text;
    problems = List.of();
    lookedAt(text, OutOfDate.NOTHING);
  }

  /** A run ended without a result. */
  void ended(List<Problem> why) {
    running = false;
    stopped = true;
    problems = List.copyOf(why);
  }

  /** What is wrong with the text as it stands. */
  void checked(List<Problem> found) {
    problems = List.copyOf(found);
  }

  /** What the engine says is out of date, this being the text. */
  void lookedAt(Document text, OutOfDate found) {
    lookedAt = text;
    outOfDate = found;
  }

  List<Problem> problems() {
    return problems;
  }

  /** Whether what is shown comes from something else than this text and the files as they stand. */
  boolean outOfDate(Document now) {
    Document last = ran;
    return last != null
        && (of(now).values().stream().anyMatch(s -> s.kind() != CellStatus.Kind.DONE)
            || !now.text().equals(lookedAt.text()) && !data(now).equals(data(last)));
  }

  private static List<String> data(Document document) {
    return document.data().stream().map(Block.Data::source).toList();
  }

  /** Whether a run is complete and its results are shown. */
  boolean hasRun() {
    return ran != null;
  }

  /** The status of each cell, in order. */
  Map<String, CellStatus> of(Document now) {
    Map<String, CellStatus> states = new LinkedHashMap<>();
    for (Block.Cell cell : now.cells()) {
      List<Problem> wrong =
          problems.stream().filter(p -> p.cell().equals(cell.name())).toList();
      states.put(cell.name(), one(cell, wrong));
    }
    return states;
  }

  private CellStatus one(Block.Cell cell, List<Problem> wrong) {
    if (running) {
      return live.getOrDefault(cell.name(), CellStatus.WAITING);
    }
    if (!wrong.isEmpty()) {
      return CellStatus.wrong(wrong);
    }
    Document last = ran;
    if (last == null) {
      return stopped
          ? new CellStatus(CellStatus.Kind.NOT_RUN, "not run: the run stopped", List.of())
          : CellStatus.NOT_RUN;
    }
    String source = cell.source();
    String before = source(last, cell.name());
    boolean looked = source.equals(source(lookedAt, cell.name()));
    Optional<OutOfDate.Stale> stale = outOfDate.of(cell.name());
    if (!looked) {
      return source.equals(before)
          ? CellStatus.DONE
          : CellStatus.outOfDate(before.isEmpty() ? "it is new" : "it was edited");
    }
    if (stale.isPresent()) {
      return CellStatus.outOfDate(stale.get().reason());
    }
    return source.equals(before) ? CellStatus.DONE : CellStatus.REWORDED;
  }

  /** The text of a cell; empty where the document has none of that name. */
  private static String source(Document document, String name) {
    return document.named(name).map(Block.Named::source).orElse("");
  }
}
