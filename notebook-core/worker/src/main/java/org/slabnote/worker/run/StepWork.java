package org.slabnote.worker.run;

import java.nio.charset.StandardCharsets;
import java.util.SplittableRandom;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.IntConsumer;
import java.util.random.RandomGenerator;
import org.jspecify.annotations.Nullable;
import org.slabnote.api.Work;
import org.slabnote.api.codec.Canonical;
import org.slabnote.worker.RunOutcome.StepFact.Kind;

/**
 * What one step may ask for while it is computed.
 *
 * <p>{@link #forEach} hands items out in order; the caller takes part, and waits only for items that
 * another thread has begun. So it never waits for a free thread, however deep loops lie in each
 * other.
 */
final class StepWork implements Work {
  private static final long TELL_EVERY_NANOS = 50_000_000;

  private final Node<?> node;
  private final RunControl control;
  private final Helpers helpers;
  private final boolean quiet;
  private volatile long told;

  /** Runs something on a free computing thread, some time, perhaps never before it is over. */
  interface Helpers {
    void offer(int most, Runnable help);
  }

  /**
   * Makes one.
   *
   * @param quiet whether it tells no progress: the step was computed, this is to compare
   */
  StepWork(Node<?> node, RunControl control, Helpers helpers, boolean quiet) {
    this.node = node;
    this.control = control;
    this.helpers = helpers;
    this.quiet = quiet;
  }

  @Override
  public void forEach(int n, IntConsumer body) {
    control.check();
    Loop loop = new Loop(n, body);
    if (n > 1) {
      helpers.offer(n - 1, loop::help);
    }
    loop.help();
    loop.finish();
  }

  @Override
  public RandomGenerator random(long seed) {
    String digest = Canonical.sha256(Keys.title(node).getBytes(StandardCharsets.UTF_8));
    return new SplittableRandom(seed ^ Long.parseUnsignedLong(digest.substring(0, 16), 16));
  }

  @Override
  public void progress(double share) {
    control.check();
    long now = System.nanoTime();
    if (!quiet && now - told > TELL_EVERY_NANOS) {
      told = now;
      control.tell(l -> l.stepProgress(node.named(), Math.max(0, Math.min(1, share))));
    }
  }

  @Override
  public void checkCancelled() {
    control.check();
  }

  @Override
  public String source(String label) {
    refuseFilter();
    return node.named() + "#" + label;
  }

  @Override
  public String commonSource(String label) {
    refuseFilter();
    String family = node.familyAddress;
    return (family.isEmpty() ? node.named() : family) + "#" + label;
  }

  private void refuseFilter() {
    if (node.statement.kind() != Kind.OPERATION) {
      throw new IllegalStateException(Keys.title(node)
          + ": a filter names no sources of uncertainty, since its result is remembered wherever it "
          + "stands. Make it an operation");
    }
  }

  /** Items of one loop, and who is at work on them. */
  private final class Loop {
    private final int n;
    private final IntConsumer body;
    private final AtomicInteger next = new AtomicInteger();
    private final ClassLoader context = Thread.currentThread().getContextClassLoader();
    private int begun;
    private int failedAt = Integer.MAX_VALUE;
    private @Nullable Throwable failure;

    Loop(int n, IntConsumer body) {
      this.n = n;
      this.body = body;
    }

    void help() {
      synchronized (this) {
        if (next.get() >= n) {
          return;
        }
        begun++;
      }
      Thread thread = Thread.currentThread();
      ClassLoader before = thread.getContextClassLoader();
      thread.setContextClassLoader(context);
      int done = 0;
      try {
        for (int i = next.getAndIncrement(); i < n; i = next.getAndIncrement()) {
          if (!item(i)) {
            next.set(n);
            break;
          }
          if ((++done & 15) == 0) {
            progress((double) i / n);
          }
        }
      } catch (Throwable e) { // cancelled between items
        failed(n, e);
      } finally {
        thread.setContextClassLoader(before);
        synchronized (this) {
          begun--;
          notifyAll();
        }
      }
    }

    private boolean item(int i) {
      try {
        control.check();
        body.accept(i);
        return true;
      } catch (Throwable e) { // reaches the caller; of several, that of the first item
        failed(i, e);
        return false;
      }
    }

    private synchronized void failed(int i, Throwable e) {
      next.set(n);
      if (i < failedAt || failure == null) {
        failedAt = i;
        failure = e;
      }
    }

    void finish() {
      Throwable thrown;
      synchronized (this) {
        while (begun > 0) {
          try {
            wait();
          } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IllegalStateException("interrupted", e);
          }
        }
        thrown = failure;
      }
      if (thrown instanceof RuntimeException e) {
        throw e;
      }
      if (thrown instanceof Error e) {
        throw e;
      }
    }
  }
}
