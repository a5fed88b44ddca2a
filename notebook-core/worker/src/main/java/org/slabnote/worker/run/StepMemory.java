package org.slabnote.worker.run;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.FileSystemException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.RejectedExecutionException;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicInteger;
import org.slabnote.api.Scan;
import org.slabnote.api.codec.Canonical;
import org.slabnote.worker.store.Store;

/**
 * Digests values and writes them to the store, off the way of the steps: one thread encodes and
 * digests, one writes.
 *
 * <p>What waits is bounded. When {@link #HEAVY} values wait for their digest, the next is digested by
 * the thread that computed it; when {@link #BUDGET_KB} wait for the disk, digesting waits too. So a slow
 * disk slows the run and fills no memory. Any thread.
 */
final class StepMemory implements AutoCloseable {
  /** Values up to this size are remembered however quick they were: an edit then reaches no more. */
  private static final long SMALL_BYTES = 256 * 1024;

  private static final int HEAVY = 8;
  private static final int QUICK = 256;
  private static final int BUDGET_KB = 64 * 1024;

  /** After as many failures the disk is full or closed, and the run tries no more. */
  private static final int FAILURES = 3;

  private static final long TALLY_BYTES = 16_000_000;
  private static final long STACK_BYTES = 8L << 20;
  private static final long POLL_MILLIS = 20;

  /** How long a run that was stopped may write what it has finished. */
  private static final long MOMENT_MILLIS = 40;

  private final Store store;
  private final RunControl control;
  private final long limit;
  private final ExecutorService digester = oneThread("digest");
  private final ExecutorService writer = oneThread("store");
  private final AtomicInteger heavy = new AtomicInteger();
  private final Semaphore quick = new Semaphore(QUICK);
  private final Semaphore room = new Semaphore(BUDGET_KB);
  private final AtomicInteger failures = new AtomicInteger();
  private final AtomicBoolean told = new AtomicBoolean();
  /** How many demanded values have no digest yet; guarded by this object's lock. */
  private int open;

  /**
   * Makes one.
   *
   * @param limit bytes that a run may remember of what nobody demanded: more would only push out the
   *     rest
   */
  StepMemory(Store store, RunControl control, long limit) {
    this.store = store;
    this.control = control;
    this.limit = limit;
  }

  private static ExecutorService oneThread(String name) {
    return Executors.newSingleThreadExecutor(task -> {
      Thread thread = new Thread(null, task, name, STACK_BYTES);
      thread.setDaemon(true);
      return thread;
    });
  }

  /** Takes what a value became: its digest and its bytes, or what its encoding threw. */
  interface Heard {
    void digested(String digest, byte[] bytes);

    void failed(Throwable thrown);
  }

  /**
   * Digests a demanded value and remembers it; {@link #awaitDigests} waits for it.
   *
   * @param waits whether the caller may be held up when too much waits already
   */
  void demanded(String key, Object value, boolean waits, Heard heard) {
    synchronized (this) {
      open++;
    }
    heavy(waits, () -> {
      try {
        byte[] bytes = Canonical.encode(value);
        String digest = Canonical.sha256(bytes);
        heard.digested(digest, bytes);
        write(key, digest, bytes);
      } catch (Throwable e) { // whatever it is, it is charged to the step
        heard.failed(e);
      } finally {
        synchronized (this) {
          open--;
          notifyAll();
        }
      }
    });
  }

  /** Remembers a value that took its time to compute, though nobody demanded it. */
  void slow(String key, Object value) {
    heavy(true, () -> remember(key, value, Long.MAX_VALUE));
  }

  /** Remembers a value that was quick to compute, if it is small and not too many wait. */
  void quick(String key, Object value) {
    boolean large = value instanceof Scan scan && 4L * scan.samples().size() > SMALL_BYTES;
    if (!large && quick.tryAcquire()) {
      execute(() -> {
        quick.release();
        remember(key, value, SMALL_BYTES);
      });
    }
  }

  /** Remembers something small. */
  void small(String key, Object value) {
    execute(() -> remember(key, value, Long.MAX_VALUE));
  }

  private void heavy(boolean waits, Runnable task) {
    Runnable counted = () -> {
      try {
        task.run();
      } finally {
        heavy.decrementAndGet();
      }
    };
    if (heavy.incrementAndGet() > HEAVY && waits) {
      counted.run();
    } else {
      execute(counted);
    }
  }

  private void execute(Runnable task) {
    try {
      digester.execute(task);
    } catch (RejectedExecutionException e) {
      return; // the run is over
    }
  }

  private void remember(String key, Object value, long most) {
    if (store.written() > limit) {
      return;
    }
    try {
      byte[] bytes = Canonical.encode(value);
      if (bytes.length <= most) {
        write(key, Canonical.sha256(bytes), bytes);
      }
    } catch (IllegalArgumentException e) {
      return; // has no encoding: told when it is demanded
    } catch (OutOfMemoryError | StackOverflowError e) {
      return; // nobody demanded it: the run itself need not fail
    }
  }

  private void write(String key, String digest, byte[] bytes) {
    int share = Math.min(BUDGET_KB, bytes.length / 1024 + 1);
    try {
      while (!room.tryAcquire(share, POLL_MILLIS, TimeUnit.MILLISECONDS)) {
        if (control.stopped()) {
          return;
        }
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      return;
    }
    try {
      writer.execute(() -> {
        try {
          put(key, digest, bytes);
        } finally {
          room.release(share); // or who waits for room would wait for ever
        }
      });
    } catch (RejectedExecutionException e) {
      return; // the run is over
    }
  }

  private void put(String key, String digest, byte[] bytes) {
    if (failures.get() >= FAILURES) {
      return;
    }
    try {
      store.put(key, digest, bytes);
      if (store.written() > TALLY_BYTES) {
        store.tidy();
      }
    } catch (IOException | UncheckedIOException e) {
      failures.incrementAndGet();
      tell(e);
    }
  }

  private void tell(Exception thrown) {
    if (!told.getAndSet(true) && !control.stopped()) {
      control.tell(l -> l.message("steps are not remembered: " + words(thrown)
          + ". Make room or allow writing there, or set XDG_CACHE_HOME to another folder. "
          + "The run goes on; the next will compute them again"));
    }
  }

  /** Place and reason; the file system's own words mostly hold the place, but not when a disk is full. */
  private String words(Exception thrown) {
    String message = String.valueOf(thrown.getMessage());
    String place = store.folder().toString();
    boolean bare = thrown instanceof FileSystemException fault && fault.getReason() == null;
    return (message.contains(place) ? "" : place + ": ")
        + (bare ? thrown.getClass().getSimpleName() + ": " : "")
        + message;
  }

  /** Waits until every demanded value has its digest, or the run is to stop. */
  void awaitDigests() {
    synchronized (this) {
      try {
        while (open > 0 && !control.stopped()) {
          wait(POLL_MILLIS);
        }
      } catch (InterruptedException e) {
        Thread.currentThread().interrupt();
        throw new RunStopped();
      }
    }
    if (control.stopped()) {
      throw new RunStopped();
    }
  }

  /** Waits until all is written; a run that was stopped has a moment for it. */
  @Override
  public void close() {
    end(digester);
    end(writer);
    if (!control.stopped() && failures.get() == 0) {
      try {
        store.tidy();
      } catch (IOException | UncheckedIOException e) {
        tell(e);
      }
    }
  }

  private void end(ExecutorService threads) {
    threads.shutdown();
    long millis = TimeUnit.MINUTES.toMillis(2);
    try {
      while (millis > 0 && !threads.awaitTermination(POLL_MILLIS, TimeUnit.MILLISECONDS)) {
        millis = (control.stopped() ? Math.min(millis, MOMENT_MILLIS) : millis) - POLL_MILLIS;
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
    if (!threads.isTerminated()) {
      threads.shutdownNow();
    }
  }
}
