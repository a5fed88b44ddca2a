package org.slabnote.app;

import java.io.PrintStream;
import java.util.List;
import java.util.concurrent.Callable;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Fault;
import org.slabnote.engine.problem.Problem;
import org.slabnote.engine.run.RunCancelled;

/** Words what stopped a command, and gives the exit status for it. */
final class Faults {
  private static final int MOST_TOLD = 20;

  private Faults() {}

  /** Runs something; whatever it throws becomes a message and a status, and never 0 or 1 by chance. */
  static int guard(Terminal terminal, Callable<Integer> body) {
    try {
      return body.call();
    } catch (Throwable thrown) { // errors too: a full heap must not end as status 1
      return tell(terminal, thrown);
    }
  }

  /** Tells what stopped a command. */
  static int tell(Terminal terminal, Throwable thrown) {
    PrintStream err = terminal.err();
    if (thrown instanceof BadInput bad) {
      return tell(err, bad.problems());
    }
    if (thrown instanceof RunCancelled) {
      err.println(thrown.getMessage());
      return Status.WRONG;
    }
    if (thrown instanceof Fault fault) {
      err.println("slabnote: " + fault.getMessage());
    } else {
      err.println("slabnote: a fault of ours, not of the job: " + words(thrown)
          + ". Please report it, with the command and what stands below");
      thrown.printStackTrace(err);
    }
    return Status.FAULT;
  }

  private static int tell(PrintStream err, List<Problem> problems) {
    problems.stream().limit(MOST_TOLD).forEach(problem -> err.println(problem.toString()));
    if (problems.size() > MOST_TOLD) {
      err.println("and " + (problems.size() - MOST_TOLD) + " more");
    }
    boolean recordOnly =
        problems.stream().allMatch(problem -> problem.kind() == Problem.Kind.RECORD);
    return recordOnly ? Status.NO : Status.WRONG;
  }

  private static String words(Throwable thrown) {
    if (thrown instanceof OutOfMemoryError) {
      return "the memory of the command itself is full";
    }
    String message = thrown.getMessage();
    return thrown.getClass().getSimpleName() + (message == null ? "" : ": " + message);
  }
}
