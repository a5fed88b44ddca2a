package org.slabnote.worker.process;

import java.io.IOException;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import org.jspecify.annotations.Nullable;
import org.slabnote.worker.RunRequest;

/**
 * At most one process started ahead of its run. It waits for its request with the classes loaded that
 * any run needs; one that nobody asks for is ended after a while.
 */
final class Spare implements AutoCloseable {
  private final long idleMillis;
  private @Nullable Waiting waiting;

  /** The class path's stamp: jars replaced meanwhile must not run under the new ones' digests. */
  private record Waiting(Launch launch, String stamp, CompletableFuture<ChildProcess> process) {
    boolean fits(Launch other) {
      return launch.equals(other) && stamp.equals(other.stamp());
    }

    void end() {
      var unused = process.thenAccept(ChildProcess::close); // one that never started needs no end
    }
  }

  /**
   * Makes an empty one.
   *
   * @param idleMillis how long a process may wait for its run
   */
  Spare(long idleMillis) {
    this.idleMillis = idleMillis;
  }

  /**
   * Starts a process in the background, unless one like it waits already.
   *
   * @param like a run for it to go through while it waits
   */
  synchronized void prepare(Launch launch, Optional<RunRequest> like) {
    Waiting before = waiting;
    if (before != null && before.fits(launch) && lives(before)) {
      return;
    }
    close();
    Waiting now = new Waiting(launch, launch.stamp(), new CompletableFuture<>());
    waiting = now;
    ChildProcess.daemon("worker-ahead", () -> start(now, like));
  }

  private void start(Waiting now, Optional<RunRequest> like) {
    try {
      ChildProcess started = ChildProcess.of(now.launch());
      rehearse(started, like);
      now.process().complete(started);
      started.process().waitFor(idleMillis, TimeUnit.MILLISECONDS);
      forget(now);
    } catch (IOException e) {
      now.process().completeExceptionally(e); // the run itself tries again, and tells
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  private static void rehearse(ChildProcess started, Optional<RunRequest> like) throws IOException {
    if (like.isPresent()) {
      try {
        started.pipe().send(new Message.Rehearse(like.get()));
      } catch (IOException e) {
        started.close();
        throw e;
      }
    }
  }

  private synchronized void forget(Waiting one) {
    if (one.equals(waiting)) {
      close();
    }
  }

  private static boolean lives(Waiting one) {
    return !one.process().isDone()
        || !one.process().isCompletedExceptionally()
            && one.process().join().process().isAlive();
  }

  /** Hands over the process that waits, if it is one that this launch would start. */
  Optional<ChildProcess> take(Launch launch) {
    Waiting one;
    synchronized (this) {
      one = waiting;
      waiting = null;
    }
    if (one == null) {
      return Optional.empty();
    }
    if (!one.fits(launch)) {
      one.end();
      return Optional.empty();
    }
    try {
      ChildProcess started = one.process().join();
      if (started.process().isAlive()) {
        return Optional.of(started);
      }
      started.close();
    } catch (java.util.concurrent.CompletionException e) {
      return Optional.empty();
    }
    return Optional.empty();
  }

  /** Ends the process that waits, if any. */
  @Override
  public synchronized void close() {
    Waiting one = waiting;
    waiting = null;
    if (one != null) {
      one.end();
    }
  }
}
