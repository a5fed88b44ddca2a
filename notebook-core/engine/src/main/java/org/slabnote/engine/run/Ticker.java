package org.slabnote.engine.run;

import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;

/** Says something a few times a second until it is closed. */
final class Ticker implements AutoCloseable {
  private static final long EVERY_MS = 250;

  private final ScheduledExecutorService thread =
      Executors.newSingleThreadScheduledExecutor(task -> {
        Thread one = new Thread(task, "outlook");
        one.setDaemon(true);
        return one;
      });

  Ticker(Runnable what) {
    var unused = thread.scheduleWithFixedDelay(what, EVERY_MS, EVERY_MS, TimeUnit.MILLISECONDS);
  }

  @Override
  public void close() {
    thread.shutdownNow();
  }
}
