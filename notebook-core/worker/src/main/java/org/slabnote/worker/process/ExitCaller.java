package org.slabnote.worker.process;

import java.io.PrintStream;
import java.util.Map;
import java.util.Optional;

/**
 * Says who ended the process by {@code System.exit}, on its way out: the thread that called it still
 * stands in that call while shutdown hooks run. {@code Runtime.halt} and a crash leave no such trace.
 */
final class ExitCaller {
  private ExitCaller() {}

  /** Watches from now on; what it finds is printed. */
  static void watch(PrintStream to) {
    Runtime.getRuntime().addShutdownHook(new Thread(() -> caller().ifPresent(to::println)));
  }

  private static Optional<String> caller() {
    for (Map.Entry<Thread, StackTraceElement[]> one : Thread.getAllStackTraces().entrySet()) {
      boolean exits = false;
      for (StackTraceElement frame : one.getValue()) {
        boolean exit = frame.getMethodName().equals("exit")
            && (frame.getClassName().equals("java.lang.Runtime")
                || frame.getClassName().equals("java.lang.System"));
        if (exits && !exit) {
          return Optional.of(
              frame.getClassName() + ", line " + frame.getLineNumber() + ", called exit");
        }
        exits |= exit;
      }
    }
    return Optional.empty();
  }
}
