package org.slabnote.api;

import java.util.List;

/**
 * Picks of one event or of several, under one name.
 *
 * @param name name of the csv block, or of the method's result
 * @param list the picks in document order
 * @since 0.1
 */
public record Picks(String name, List<Pick> list) {
  /** Copies the list. */
  public Picks {
    list = List.copyOf(list);
  }

  /** Returns the picks on one pass. */
  public Picks on(String pass) {
    return new Picks(name, list.stream().filter(p -> p.pass().equals(pass)).toList());
  }
}
