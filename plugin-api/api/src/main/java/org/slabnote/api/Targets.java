package org.slabnote.api;

import java.util.List;

/**
 * The findings of a survey.
 *
 * @param list targets in order of name
 * @since 0.1
 */
public record Targets(List<Target> list) {
  /** Copies the list. */
  public Targets {
    list = List.copyOf(list);
  }
}
