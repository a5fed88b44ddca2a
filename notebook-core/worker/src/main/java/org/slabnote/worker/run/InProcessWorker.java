package org.slabnote.worker.run;

import java.util.concurrent.atomic.AtomicReference;
import org.jspecify.annotations.Nullable;
import org.slabnote.worker.RunListener;
import org.slabnote.worker.RunOutcome;
import org.slabnote.worker.RunRequest;
import org.slabnote.worker.WorkerClient;

/**
 * Runs tapes in this process: for tests, and within the worker process.
 *
 * <p>A cell that does not end cannot be ended here: the outcome is given, and a thread goes on. The
 * limit of memory is that of this process. Only a process of its own holds either.
 *
 * @since 0.1
 */
public final class InProcessWorker implements WorkerClient {
  private final ClassLoader loader;
  private final AtomicReference<@Nullable Run> running = new AtomicReference<>();

  /**
   * Makes a worker.
   *
   * @param loader finds the plugins and the classes that cells may use
   */
  public InProcessWorker(ClassLoader loader) {
    this.loader = loader;
  }

  @Override
  public RunOutcome run(RunRequest request, RunListener listener) {
    Run run = new Run(request, loader, new RunControl(listener));
    if (!running.compareAndSet(null, run)) {
      throw new IllegalStateException("a run is going on; expected one at a time");
    }
    try {
      return run.watch();
    } finally {
      running.set(null);
    }
  }

  @Override
  public void cancel() {
    Run run = running.get();
    if (run != null) {
      run.cancel();
    }
  }
}
