package org.slabnote.engine.problem;

import java.util.List;
import java.util.stream.Collectors;

/**
 * The job as it stands cannot be run or read; somebody can put it right. Nothing was written.
 *
 * @since 0.1
 */
public final class BadInput extends Exception {
  private static final long serialVersionUID = 1L;

  private final transient List<Problem> problems;

  /**
   * Carries the problems.
   *
   * @param problems in the order of the file they stand in; at least one
   */
  public BadInput(List<Problem> problems) {
    super(problems.stream().map(Problem::toString).collect(Collectors.joining("\n")));
    if (problems.isEmpty()) {
      throw new IllegalArgumentException("no problems given; expected at least one");
    }
    this.problems = List.copyOf(problems);
  }

  /** Carries one problem. */
  public BadInput(Problem problem) {
    this(List.of(problem));
  }

  /** The problems, at least one. */
  public List<Problem> problems() {
    return problems;
  }
}
