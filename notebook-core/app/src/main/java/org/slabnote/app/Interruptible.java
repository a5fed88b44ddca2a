package org.slabnote.app;

import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import org.slabnote.engine.run.JobRunner;

/**
 * A runner that is cancelled when the process is told to end, and given a moment to take its temporary
 * files away.
 */
final class Interruptible implements AutoCloseable {
  private static final long MOMENT_S = 5;

  private final JobRunner runner;
  private final CountDownLatch over = new CountDownLatch(1);
  private final Thread hook = new Thread(this::cancel, "cancel");

  Interruptible(JobRunner runner) {
    this.runner = runner;
    Runtime.getRuntime().addShutdownHook(hook);
  }

  JobRunner get() {
    return runner;
  }

  private void cancel() {
    try {
      runner.cancel();
      boolean inTime = over.await(MOMENT_S, TimeUnit.SECONDS);
      if (!inTime) {
        return; // the process ends all the same; the worker goes with it
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  @Override
  public void close() {
    runner.close();
    over.countDown();
    try {
      Runtime.getRuntime().removeShutdownHook(hook);
    } catch (IllegalStateException e) {
      return; // the process is ending: the hook waits for this
    }
  }
}
