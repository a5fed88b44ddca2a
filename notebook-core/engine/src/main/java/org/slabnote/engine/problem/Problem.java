package org.slabnote.engine.problem;

import java.util.Objects;

/**
 * One thing that is wrong with a job, and where.
 *
 * @param kind what sort of thing is wrong
 * @param file the file as the job names it, relative to the job folder, such as {@code survey.csv}
 * @param line line in that file, from 1; 0 when no line applies
 * @param cell name of the notebook's cell or csv block; empty when none applies
 * @param message what is wrong, with the value; what was expected; what to do. Without the place
 * @since 0.1
 */
public record Problem(Kind kind, String file, int line, String cell, String message) {

  /** What sort of thing is wrong. */
  public enum Kind {
    /** The notebook's blocks: names, fences. */
    NOTEBOOK,
    /** A cell does not compile, or defines a name badly. */
    COMPILE,
    /** A cell refers to something it may not use. */
    REFUSED,
    /** A file of the job: job sheet, survey table, cuts, scans. */
    FILE,
    /** A cell or a step of it stopped while running. */
    RUN,
    /** A plugin could not be loaded. */
    PLUGIN,
    /** The record does not fit the notebook or the scans. */
    RECORD
  }

  /** Checks that no part is missing. */
  public Problem {
    Objects.requireNonNull(kind);
    Objects.requireNonNull(file);
    Objects.requireNonNull(cell);
    Objects.requireNonNull(message);
  }

  /** A problem of a file of the job. */
  public static Problem inFile(String file, int line, String message) {
    return new Problem(Kind.FILE, file, line, "", message);
  }

  /** The place as messages begin: {@code cell velocity, line 41} or {@code survey.csv, line 9}. */
  public String place() {
    String start = cell.isEmpty() ? file : "cell " + cell;
    return line > 0 ? start + ", line " + line : start;
  }

  /** Place and message, as people read it. */
  @Override
  public String toString() {
    return place() + ": " + message;
  }
}
