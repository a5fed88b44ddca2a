package org.slabnote.cancel;

import java.lang.management.ManagementFactory;
import java.lang.management.ThreadMXBean;
import java.util.SplittableRandom;
import java.util.function.IntConsumer;
import java.util.random.RandomGenerator;
import org.slabnote.api.Work;

/**
 * Work on the calling thread that measures how long an operation goes without looking for a cancel,
 * in processor time of the thread: what else the machine does hardly counts.
 */
final class Looks implements Work {
  private static final ThreadMXBean TIMES = ManagementFactory.getThreadMXBean();

  private final Work plain = Work.serial("test/step/E01");
  private final long start = now();
  private long last = start;
  private long longest;
  private int count;

  private static long now() {
    return TIMES.getCurrentThreadCpuTime();
  }

  private void look() {
    long time = now();
    longest = Math.max(longest, time - last);
    last = time;
    count++;
  }

  /** Notes the end. */
  void end() {
    look();
    count--;
  }

  /** Returns the longest time without a look, in milliseconds. */
  double longestMillis() {
    return longest / 1e6;
  }

  /** Returns the time from start to end, in milliseconds. */
  double wholeMillis() {
    return (last - start) / 1e6;
  }

  int count() {
    return count;
  }

  @Override
  public void forEach(int n, IntConsumer body) {
    for (int i = 0; i < n; i++) {
      look();
      body.accept(i);
    }
    look();
  }

  @Override
  public RandomGenerator random(long seed) {
    return new SplittableRandom(seed);
  }

  @Override
  public void progress(double share) {
    look();
  }

  @Override
  public void checkCancelled() {
    look();
  }

  @Override
  public String source(String label) {
    return plain.source(label);
  }

  @Override
  public String commonSource(String label) {
    return plain.commonSource(label);
  }
}
