package org.slabnote.app;

/** Starts the command line. */
public final class Main {
  private Main() {}

  /**
   * Runs one command and ends the process with its exit status: 0 done; 1 the work says no; 2 wrong use
   * or bad input; 3 a fault of ours.
   *
   * @param arguments the command and what it is given
   */
  public static void main(String[] arguments) {
    int status = Status.FAULT;
    try {
      status = run(Terminal.ofProcess(), Bench.ofEngine(), arguments);
    } finally {
      // Whatever is thrown, the status of a thread that dies (1) would read as a verdict.
      Runtime.getRuntime().exit(status);
    }
  }

  /** Runs one command and returns its exit status. */
  static int run(Terminal terminal, Bench bench, String... arguments) {
    int status = Faults.guard(terminal, () -> CommandLines.of(terminal, bench).execute(arguments));
    return terminal
        .finish()
        .map(problem -> {
          terminal
              .err()
              .println("standard output: not all of the result could be written (" + problem
                  + "). Make room, or write it elsewhere");
          return Status.FAULT;
        })
        .orElse(status);
  }
}
