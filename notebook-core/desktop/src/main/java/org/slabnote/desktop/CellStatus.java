package org.slabnote.desktop;

import java.util.List;
import org.slabnote.engine.problem.Problem;

/**
 * Where a cell stands, as the window says it.
 *
 * @param kind for programs and for the colour beside the words
 * @param words for people
 * @param problems what is wrong with it, each with its line
 */
record CellStatus(Kind kind, String words, List<Problem> problems) {
  /** Kinds of status. */
  enum Kind {
    /** No run since the job was opened. */
    NOT_RUN,
    /** In a run, not reached. */
    WAITING,
    /** In a run, under way. */
    RUNNING,
    /** All that was asked of it is there, and its text is the one that ran. */
    DONE,
    /** What is shown comes from another text. */
    OUT_OF_DATE,
    /** It does not compile, may not run, or stopped. */
    WRONG
  }

  static final CellStatus NOT_RUN = new CellStatus(Kind.NOT_RUN, "not run", List.of());
  static final CellStatus WAITING = new CellStatus(Kind.WAITING, "waiting", List.of());
  static final CellStatus DONE = new CellStatus(Kind.DONE, "done", List.of());

  /** Only comments or layout are others than in the run. */
  static final CellStatus REWORDED =
      new CellStatus(Kind.DONE, "done; only comments or layout changed since", List.of());

  CellStatus {
    problems = List.copyOf(problems);
  }

  static CellStatus running(String words) {
    return new CellStatus(Kind.RUNNING, words, List.of());
  }

  static CellStatus outOfDate(String reason) {
    return new CellStatus(Kind.OUT_OF_DATE, "out of date: " + reason, List.of());
  }

  /** The first problem in words, and how many more there are. */
  static CellStatus wrong(List<Problem> problems) {
    Problem first = problems.get(0);
    String start = switch (first.kind()) {
      case REFUSED -> "refused";
      case COMPILE -> "does not compile";
      case RUN -> "stopped";
      case NOTEBOOK -> "cannot be read";
      case FILE, PLUGIN, RECORD -> "held up";
    };
    String line = first.line() > 0 ? ", line " + first.line() : "";
    String more = problems.size() > 1 ? " (and " + (problems.size() - 1) + " more)" : "";
    return new CellStatus(
        Kind.WRONG, start + line + ": " + first.message() + more, List.copyOf(problems));
  }
}
