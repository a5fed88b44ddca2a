package org.slabnote.engine.run;

import java.util.List;
import org.slabnote.engine.problem.Problem;
import org.slabnote.engine.trace.OutOfDate;

/**
 * How a job's record stands to the job as it is, nothing having run.
 *
 * @param upToDate whether the record tells of the job as it stands
 * @param outOfDate the cells that are out of date, as far as the run that gave the record is remembered
 *     here
 * @param words what else is to be told, a line each
 * @param problems why the job could not be run as it stands; empty where it could
 * @since 0.1
 */
public record Standing(
    boolean upToDate, OutOfDate outOfDate, List<String> words, List<Problem> problems) {
  /** Copies the lists. */
  public Standing {
    words = List.copyOf(words);
    problems = List.copyOf(problems);
  }
}
