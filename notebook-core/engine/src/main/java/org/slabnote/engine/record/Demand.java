package org.slabnote.engine.record;

import java.util.List;

/**
 * What the notebook asked for.
 *
 * @param kind how it was asked
 * @param name the name given to a table or conclusion; the cell's name for a read; else empty
 * @param address the step
 * @param over steps drawn over a picture
 * @since 0.1
 */
public record Demand(Kind kind, String name, String address, List<String> over) {
  /** How a step was asked for. */
  public enum Kind {
    /** {@code get()} in a cell. */
    READ,
    /** {@code show}. */
    SHOW,
    /** {@code table}. */
    TABLE,
    /** {@code findings}. */
    FINDINGS,
    /** {@code ledger}. */
    LEDGER,
    /** {@code seen}. */
    SEEN,
    /** {@code conclude}. */
    CONCLUDE
  }

  /** Copies the list. */
  public Demand {
    over = List.copyOf(over);
  }
}
