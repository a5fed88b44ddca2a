package org.slabnote.api;

import java.util.List;

/**
 * The survey table: a row per scan.
 *
 * @param rows rows in the order of the table
 * @since 0.1
 */
public record Survey(List<SurveyRow> rows) {
  /** Copies the list. */
  public Survey {
    rows = List.copyOf(rows);
  }

  /** Returns whether some scan has this orientation. */
  public boolean has(Orientation orientation) {
    return rows.stream().anyMatch(r -> r.antenna().orientation() == orientation);
  }
}
