package org.slabnote.engine.run;

import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionException;
import org.slabnote.engine.problem.BadInput;

/**
 * What this process does for a run and cannot stop, such as compiling: it goes on by itself when the
 * run is cancelled, and nobody waits for it.
 */
final class HostWork {
  private static final long STACK_BYTES = 16L << 20;

  private volatile CompletableFuture<Object> cancelled = new CompletableFuture<>();

  /** Something to do. */
  interface Doing<T> {
    T call() throws BadInput;
  }

  /** A run begins: a cancel from now on is for that one. */
  void begin() {
    cancelled = new CompletableFuture<>();
  }

  void cancel() {
    cancelled.complete(this);
  }

  /** Throws {@link RunCancelled} if the run was cancelled. */
  void goOn() {
    if (cancelled.isDone()) {
      throw new RunCancelled();
    }
  }

  /**
   * Does something and returns what it gives.
   *
   * @throws RunCancelled as soon as the run is cancelled
   */
  <T> T call(Doing<T> doing) throws BadInput {
    goOn();
    CompletableFuture<Object> cancel = cancelled;
    CompletableFuture<T> done = new CompletableFuture<>();
    Thread thread = new Thread(null, () -> run(doing, done), "host-work", STACK_BYTES);
    thread.setDaemon(true);
    thread.start();
    try {
      CompletableFuture.anyOf(done, cancel).join();
    } catch (CompletionException e) {
      throw thrown(e);
    }
    if (!done.isDone()) {
      throw new RunCancelled();
    }
    try {
      return done.join();
    } catch (CompletionException e) {
      throw thrown(e);
    }
  }

  private static <T> void run(Doing<T> doing, CompletableFuture<T> done) {
    try {
      done.complete(doing.call());
    } catch (Throwable e) { // whatever it is, it is thrown to who asked
      done.completeExceptionally(e);
    }
  }

  private static BadInput thrown(CompletionException e) {
    Throwable cause = e.getCause();
    if (cause instanceof BadInput bad) {
      return bad;
    }
    if (cause instanceof Error error) {
      throw error;
    }
    throw cause instanceof RuntimeException one ? one : e;
  }
}
