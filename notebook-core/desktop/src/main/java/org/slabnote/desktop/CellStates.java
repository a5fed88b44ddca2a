package org.slabnote.desktop;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import org.jspecify.annotations.Nullable;
import org.slabnote.engine.document.Block;
import org.slabnote.engine.document.Document;
import org.slabnote.engine.problem.Problem;

/**
 * Tells where each cell stands, from the text as it is, the text that ran last, and what is known to be
 * wrong. A cell counts as out of date when its text, a csv block that it read, or any cell above it is
 * another than in the run: what a cell needs of those above is not guessed.
 */
final class CellStates {
  private @Nullable Document ran;
  private Map<String, ? extends Set<String>> dataRead = Map.of();
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
  void completed(Document text, Map<String, ? extends Set<String>> read) {
    running = false;
    stopped = false;
    ran = text;
    dataRead = Map.copyOf(read);
    problems = List.of();
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

  List<Problem> problems() {
    return problems;
  }

  /** Whether what is shown comes from another text than this one. */
  boolean outOfDate(Document now) {
    return ran != null && of(now).values().stream().anyMatch(s -> s.kind() != CellStatus.Kind.DONE);
  }

  /** Whether a run is complete and its results are shown. */
  boolean hasRun() {
    return ran != null;
  }

  /** The status of each cell, in order. */
  Map<String, CellStatus> of(Document now) {
    Map<String, CellStatus> states = new LinkedHashMap<>();
    String above = "";
    for (Block.Cell cell : now.cells()) {
      List<Problem> wrong =
          problems.stream().filter(p -> p.cell().equals(cell.name())).toList();
      String reason = reason(now, cell, above);
      states.put(cell.name(), one(cell.name(), wrong, reason));
      if (above.isEmpty() && !reason.isEmpty()) {
        above = cell.name();
      }
    }
    return states;
  }

  private CellStatus one(String cell, List<Problem> wrong, String reason) {
    if (running) {
      return live.getOrDefault(cell, CellStatus.WAITING);
    }
    if (!wrong.isEmpty()) {
      return CellStatus.wrong(wrong);
    }
    if (ran == null) {
      return stopped
          ? new CellStatus(CellStatus.Kind.NOT_RUN, "not run: the run stopped", List.of())
          : CellStatus.NOT_RUN;
    }
    return reason.isEmpty() ? CellStatus.DONE : CellStatus.outOfDate(reason);
  }

  /** Why a cell is out of date; empty when it is not. */
  private String reason(Document now, Block.Cell cell, String above) {
    if (ran == null) {
      return "";
    }
    Block.Cell before = ran.cells().stream()
        .filter(one -> one.name().equals(cell.name()))
        .findFirst()
        .orElse(null);
    if (before == null) {
      return "it was not in the last run";
    }
    if (!before.source().equals(cell.source())) {
      return "its text changed since the run";
    }
    Set<String> read = dataRead.get(cell.name());
    for (String block : read == null ? Set.<String>of() : new TreeSet<>(read)) {
      if (!source(ran, block).equals(source(now, block))) {
        return "data " + block + " changed since the run";
      }
    }
    if (!above.isEmpty()) {
      return "cell " + above + " above changed since the run";
    }
    return gone(now, cell);
  }

  /** A cell that stood above this one and is there no more. */
  private String gone(Document now, Block.Cell cell) {
    List<String> there = new ArrayList<>();
    now.cells().forEach(one -> there.add(one.name()));
    List<Block.Cell> old = ran == null ? List.of() : ran.cells();
    for (Block.Cell one : old) {
      if (one.name().equals(cell.name())) {
        return "";
      }
      int at = there.indexOf(one.name());
      if (at < 0 || at > there.indexOf(cell.name())) {
        return "cell " + one.name() + " is no longer above it";
      }
    }
    return "";
  }

  private static String source(Document document, String block) {
    return document.named(block).map(Block.Named::source).orElse("");
  }
}
