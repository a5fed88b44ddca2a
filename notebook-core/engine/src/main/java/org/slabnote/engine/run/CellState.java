package org.slabnote.engine.run;

/**
 * Where a cell stands.
 *
 * @param kind for programs
 * @param words for people, one sentence
 * @since 0.1
 */
public record CellState(Kind kind, String words) {
  /** Kinds of state. */
  public enum Kind {
    /** Not looked at since its text or an input changed. */
    WAITING,
    /** Its statements are being replayed or its steps computed. */
    RUNNING,
    /** All that was asked of it is there. */
    DONE,
    /** It, or a step of it, stopped; or it does not compile or may not run. */
    STOPPED
  }

  static final CellState WAITS = new CellState(Kind.WAITING, "not run yet");
  static final CellState LEFT =
      new CellState(Kind.WAITING, "not run to its end: something else stopped the run");
  static final CellState RUNS = new CellState(Kind.RUNNING, "running");
  static final CellState IS_DONE = new CellState(Kind.DONE, "done");

  static CellState stopped(String message) {
    return new CellState(Kind.STOPPED, message);
  }
}
