package org.slabnote.api;

import java.util.List;

/**
 * Events of a scan, or of a whole survey: the event ledger once each has its state.
 *
 * @param list events in order of pass, then place
 * @since 0.1
 */
public record Events(List<Event> list) {
  /** Copies the list. */
  public Events {
    list = List.copyOf(list);
  }
}
