package org.slabnote.testkit;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.IntConsumer;
import java.util.random.RandomGenerator;
import org.jspecify.annotations.Nullable;
import org.slabnote.api.CancelledException;
import org.slabnote.api.Work;

/**
 * Work for tests: any number of threads, a cancel at a set moment, a record of the progress.
 *
 * <p>{@link #forEach} gives the items to its threads in turn, the last first, so that an operation
 * which relies on their order is found. Thread-safe.
 *
 * @since 0.1
 */
public final class TestWork implements Work {
  private final String address;
  private final int threads;
  private final int looksUntilCancel;
  private final AtomicInteger looks = new AtomicInteger();
  private final AtomicInteger loops = new AtomicInteger();
  private final List<Double> reports = new ArrayList<>();

  private TestWork(String address, int threads, int looksUntilCancel) {
    this.address = address;
    this.threads = threads;
    this.looksUntilCancel = looksUntilCancel;
  }

  /** Returns work on the calling thread, never cancelled. */
  public static TestWork serial() {
    return new TestWork("test", 1, Integer.MAX_VALUE);
  }

  /** Returns work on {@code threads} threads, never cancelled. */
  public static TestWork threads(int threads) {
    return new TestWork("test", threads, Integer.MAX_VALUE);
  }

  /** Returns work that is cancelled after {@code looks} looks for a cancel; 0 cancels the first. */
  public static TestWork cancelledAfter(int looks) {
    return new TestWork("test", 1, looks);
  }

  /** Returns work of another address, which stands in the names of uncertainty sources. */
  public TestWork at(String newAddress) {
    return new TestWork(newAddress, threads, looksUntilCancel);
  }

  /** Returns the shares that the operation itself reported, in order; loops report by themselves. */
  public synchronized List<Double> reports() {
    return List.copyOf(reports);
  }

  /** Returns how many loops the operation ran through {@link #forEach}. */
  public int loops() {
    return loops.get();
  }

  /** Returns how often the operation looked for a cancel. */
  public int looks() {
    return looks.get();
  }

  @Override
  public void forEach(int n, IntConsumer body) {
    loops.incrementAndGet();
    AtomicReference<@Nullable Throwable> fault = new AtomicReference<>();
    List<Thread> running = new ArrayList<>();
    for (int t = 0; t < threads; t++) {
      int first = n - 1 - t;
      Runnable share = () -> items(first, body, fault);
      if (threads == 1) {
        share.run();
      } else {
        Thread thread = new Thread(share, "test-work-" + t);
        thread.start();
        running.add(thread);
      }
    }
    running.forEach(TestWork::join);
    Throwable thrown = fault.get();
    if (thrown instanceof RuntimeException e) {
      throw e;
    }
    if (thrown instanceof Error e) {
      throw e;
    }
  }

  private void items(int first, IntConsumer body, AtomicReference<@Nullable Throwable> fault) {
    try {
      for (int i = first; i >= 0; i -= threads) {
        checkCancelled();
        body.accept(i);
      }
    } catch (RuntimeException | Error e) {
      fault.compareAndSet(null, e);
    }
  }

  private static void join(Thread thread) {
    try {
      thread.join();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IllegalStateException("interrupted while a test's threads ran", e);
    }
  }

  @Override
  public RandomGenerator random(long seed) {
    return new SplittableRandom(seed);
  }

  @Override
  public synchronized void progress(double share) {
    reports.add(share);
  }

  @Override
  public void checkCancelled() {
    if (looks.getAndIncrement() >= looksUntilCancel) {
      throw new CancelledException();
    }
  }

  @Override
  public String source(String label) {
    return address + "#" + label;
  }
}
