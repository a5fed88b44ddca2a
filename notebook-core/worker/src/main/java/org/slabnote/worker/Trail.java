package org.slabnote.worker;

import java.util.Collections;
import java.util.List;
import java.util.SortedMap;
import java.util.TreeMap;

/**
 * How a run came about: what each statement read, and which one stated each step. It tells what an edit
 * reaches; nothing of it enters a record.
 *
 * @param reads in the order in which they happened, each once
 * @param statedBy number of the tape's statement by the address of the step that it stated
 * @since 0.1
 */
public record Trail(List<Read> reads, SortedMap<String, Integer> statedBy) {
  /** Of a run that did not come to its end. */
  public static final Trail NONE = new Trail(List.of(), new TreeMap<>());

  /** Copies list and map. */
  public Trail {
    reads = List.copyOf(reads);
    statedBy = Collections.unmodifiableSortedMap(new TreeMap<>(statedBy));
  }

  /**
   * Something that a statement read while it ran.
   *
   * @param statement number of the statement in the tape, from 0
   * @param kind what sort
   * @param name name of the csv block, orientation of the scans, address of the scan or of the step
   *     whose value was got; empty otherwise
   */
  public record Read(int statement, Kind kind, String name) {}

  /** What a statement can read. */
  public enum Kind {
    /** A csv block. */
    BLOCK,
    /** The job sheet. */
    JOB,
    /** The survey table. */
    SURVEY,
    /** The proposed cuts. */
    CUTS,
    /** All scans of an orientation: which there are. */
    SCANS,
    /** One scan: that it is there. */
    SCAN,
    /** The value of a step. */
    VALUE
  }
}
