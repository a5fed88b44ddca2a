package org.slabnote.api;

import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import org.slabnote.api.quantity.Angle;
import org.slabnote.api.quantity.Length;
import org.slabnote.api.quantity.Measured;

/**
 * A finding: something in the slab, where, how deep, how sure, and why.
 *
 * @param name short name, unique in the job: {@code T01}
 * @param start place, or one end of a line
 * @param end other end of a line; empty for a point seen on one pass only
 * @param depth depth from the scanned face to {@code reference}, at the middle of the line, with
 *     its uncertainty
 * @param endDepths depth at start and at end, metres, in that order; equal where no slope is told
 * @param across uncertainty of the place across the line (along the pass for a point): value 0 m
 * @param reference what the depth runs to
 * @param diameter outside diameter with its uncertainty; often assumed, never measured by radar
 * @param strike direction of the line from +x towards +y, 0 up to 180 degrees; empty for a point
 * @param pairRatio pair ratio at the apex, where both orientations were there
 * @param classes probability of each class, summing to 1; empty while not classified
 * @param status how firm it is
 * @param alternatives what else it could be, in words
 * @param evidence names of the events it rests on
 * @since 0.1
 */
public record Target(
    String name,
    Point start,
    Optional<Point> end,
    Measured<Length> depth,
    List<Length> endDepths,
    Measured<Length> across,
    Reference reference,
    Measured<Length> diameter,
    Optional<Angle> strike,
    Optional<PairRatio> pairRatio,
    SortedMap<TargetClass, Double> classes,
    Status status,
    String alternatives,
    List<String> evidence) {

  /**
   * What a depth runs to.
   *
   * @since 0.1
   */
  public enum Reference {
    /** The point of the target nearest to the scanned face. */
    TOP,
    /** Its axis. */
    CENTRE
  }

  /**
   * How firm a finding is (common practice, no source). Nothing is confirmed by radar alone.
   *
   * @since 0.1
   */
  public enum Status {
    /** Seen on three passes in a row or more, or by independent evidence. */
    PROBABLE,
    /** Seen on one pass or two. */
    POSSIBLE,
    /** Seen, but not told apart from something else. */
    NOT_RESOLVED
  }

  /** Copies lists and maps. */
  public Target {
    endDepths = List.copyOf(endDepths);
    classes = Collections.unmodifiableSortedMap(new TreeMap<>(classes));
    evidence = List.copyOf(evidence);
  }

  /** Returns the most probable class, or nothing while not classified. */
  public Optional<TargetClass> likeliest() {
    // Of equals the first in the order of the classes: max would take the last.
    return classes.entrySet().stream()
        .reduce((best, next) -> next.getValue() > best.getValue() ? next : best)
        .map(Map.Entry::getKey);
  }

  /** Returns this target with its pair ratio. */
  public Target withPairRatio(PairRatio ratio) {
    return new Target(
        name,
        start,
        end,
        depth,
        endDepths,
        across,
        reference,
        diameter,
        strike,
        Optional.of(ratio),
        classes,
        status,
        alternatives,
        evidence);
  }

  /** Returns this target with class probabilities and what else it could be. */
  public Target withClasses(SortedMap<TargetClass, Double> probabilities, String otherwise) {
    return new Target(
        name,
        start,
        end,
        depth,
        endDepths,
        across,
        reference,
        diameter,
        strike,
        pairRatio,
        probabilities,
        status,
        otherwise,
        evidence);
  }
}
