package org.slabnote.api;

import java.util.Collections;
import java.util.SortedMap;
import java.util.TreeMap;
import org.slabnote.api.quantity.Length;

/**
 * A proposed cut.
 *
 * @param name name in {@code cuts.csv}
 * @param kind core, drill hole or saw cut
 * @param start centre of a core or hole; one end of a saw cut
 * @param end other end of a saw cut; the same place for a core or hole
 * @param diameter bore diameter; width of a saw cut
 * @param depth how deep it goes from the scanned face
 * @param room how far it may be moved
 * @param required required clearance by class of target, from the job sheet; empty where none is set
 * @since 0.1
 */
public record Cut(
    String name,
    Kind kind,
    Point start,
    Point end,
    Length diameter,
    Length depth,
    Length room,
    SortedMap<TargetClass, Length> required) {

  /**
   * Kinds of cut.
   *
   * @since 0.1
   */
  public enum Kind {
    /** A core hole. */
    CORE,
    /** A drilled hole. */
    DRILL,
    /** A saw cut. */
    SAW
  }

  /** Copies the map. */
  public Cut {
    required = Collections.unmodifiableSortedMap(new TreeMap<>(required));
  }
}
