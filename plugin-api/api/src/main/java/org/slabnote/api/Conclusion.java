package org.slabnote.api;

import java.util.Collections;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import org.slabnote.api.quantity.Length;
import org.slabnote.api.quantity.Measured;

/**
 * A statement that can be put to the test (JCGM 106: conformity under uncertainty).
 *
 * @param subject what it is about: the name of the cut
 * @param statement the whole statement in words, with what was not seen
 * @param verdict one of the four
 * @param margin distance to the nearest target less the required clearance, with its budget;
 *     positive is farther than required; empty where there is none to tell
 * @param nearest name of the target that the margin is to
 * @param figures further numbers by name, the unit at its end: {@code distance_m, required_m,
 *     contact_probability_1, seen_to_m, smallest_m}
 * @since 0.1
 */
public record Conclusion(
    String subject,
    String statement,
    Verdict verdict,
    Optional<Measured<Length>> margin,
    Optional<String> nearest,
    SortedMap<String, Double> figures) {
  /** Copies the map. */
  public Conclusion {
    figures = Collections.unmodifiableSortedMap(new TreeMap<>(figures));
  }
}
