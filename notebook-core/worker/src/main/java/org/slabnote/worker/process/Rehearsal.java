package org.slabnote.worker.process;

import org.slabnote.api.codec.Canonical;
import org.slabnote.worker.RunListener;
import org.slabnote.worker.RunOutcome;
import org.slabnote.worker.RunRequest;
import org.slabnote.worker.run.InProcessWorker;

/**
 * A worker that waits goes through a run like the one to come, so that its classes are loaded and
 * compiled when that comes.
 *
 * <p>Nothing of it is told, and it ends before anything is computed: at the first step that is not
 * remembered. The run itself starts with class loaders of its own, for the cells and for the plugins
 * of third parties, so that no variable of theirs keeps a value from here. Bundled plugins have none
 * that could (pluginsKeepNoStateInStaticFields in the tests of the demo).
 */
final class Rehearsal implements AutoCloseable {
  /** So often the compiler knows what matters; more gains little. */
  private static final int TIMES = 8;

  private final InProcessWorker worker;
  private final Thread thread;
  private volatile boolean over;

  /** Begins, and returns at once. */
  Rehearsal(RunRequest request, ClassLoader loader) {
    worker = new InProcessWorker(loader);
    thread = ChildProcess.daemon("rehearsal", () -> goThrough(request));
  }

  private void goThrough(RunRequest request) {
    try {
      for (int i = 0; i < TIMES && !over; i++) {
        RunOutcome outcome = worker.run(request, new RunListener() {
          @Override
          public void stepStarted(String address, String operation) {
            over = true;
            worker.cancel();
          }

          @Override
          public void cell(String cell, CellState state) {
            if (over) {
              worker.cancel(); // the end came before the run could hear of it
            }
          }
        });
        Canonical.encode(new Message.Done(outcome));
      }
    } catch (RuntimeException | LinkageError e) {
      return; // whatever it is, the run itself meets it again and tells
    }
  }

  /** Waits for its end. */
  void join() throws InterruptedException {
    thread.join();
  }

  /** Ends it, and waits for its end. */
  @Override
  public void close() {
    over = true;
    worker.cancel();
    try {
      thread.join();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}
