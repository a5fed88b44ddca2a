package org.slabnote.engine.trace;

import java.util.List;
import java.util.Optional;

/**
 * What of the last complete run no longer holds for the job as it stands.
 *
 * @param cells the cells that are out of date, in order
 * @param beside what changed and reaches no step: the record still names the old digest
 * @since 0.1
 */
public record OutOfDate(List<Stale> cells, List<String> beside) {
  /** Nothing is out of date. */
  public static final OutOfDate NOTHING = new OutOfDate(List.of(), List.of());

  /** Copies the lists. */
  public OutOfDate {
    cells = List.copyOf(cells);
    beside = List.copyOf(beside);
  }

  /** Whether the run holds, to the last digest. */
  public boolean isNothing() {
    return cells.isEmpty() && beside.isEmpty();
  }

  /** Why a cell is out of date; empty where it is not. */
  public Optional<Stale> of(String cell) {
    return cells.stream().filter(one -> one.cell().equals(cell)).findFirst();
  }

  /**
   * A cell that is out of date.
   *
   * @param cell its name
   * @param steps addresses of its steps that may come out another way, in the order of their statement
   * @param reasons why, in words, the nearest first
   */
  public record Stale(String cell, List<String> steps, List<String> reasons) {
    /** Copies the lists. */
    public Stale {
      steps = List.copyOf(steps);
      reasons = List.copyOf(reasons);
    }

    /** The reasons in one sentence, without the cell. */
    public String reason() {
      return String.join("; ", reasons);
    }

    /** One sentence: {@code cell `velocity`: scan E04 changed}. */
    public String sentence() {
      return "cell `" + cell + "`: " + reason();
    }
  }
}
