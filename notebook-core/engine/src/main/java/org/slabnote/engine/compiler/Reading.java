package org.slabnote.engine.compiler;

import java.util.List;
import org.slabnote.worker.Trail;

/**
 * A part of the job sheet, the survey table or the proposed cuts that a statement's byte code reads, and
 * no more than that part.
 *
 * @param of what it is a part of: {@code JOB}, {@code SURVEY} or {@code CUTS}
 * @param path the way to the part, empty for the whole: {@code .name} for a component of a record,
 *     {@code #3} for an element of a list, {@code @name} for an entry of a map or the cut of that name
 * @since 0.1
 */
public record Reading(Trail.Kind of, List<String> path) {
  /** Copies the list. */
  public Reading {
    path = List.copyOf(path);
  }
}
