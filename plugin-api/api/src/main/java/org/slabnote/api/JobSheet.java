package org.slabnote.api;

import java.util.Collections;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import org.slabnote.api.quantity.Length;

/**
 * The job sheet as an input of the analysis: nothing in it is guessed.
 *
 * @param title title of the job
 * @param question the question asked, in the client's words
 * @param thickness thickness of the slab, where a drawing or an edge states it
 * @param required required clearance by class of target
 * @param facts everything else, by {@code section.key}
 * @since 0.1
 */
public record JobSheet(
    String title,
    String question,
    Optional<Length> thickness,
    SortedMap<TargetClass, Length> required,
    SortedMap<String, String> facts) {
  /** Copies the maps. */
  public JobSheet {
    required = Collections.unmodifiableSortedMap(new TreeMap<>(required));
    facts = Collections.unmodifiableSortedMap(new TreeMap<>(facts));
  }
}
