package org.slabnote.api;

import java.util.function.IntConsumer;
import java.util.random.RandomGenerator;

/**
 * What an operation may ask of its surroundings: parallel loops, seeded chance, progress, cancel.
 *
 * <p>An operation gives the same bytes whatever the number of threads behind {@link #forEach}.
 *
 * @since 0.1
 */
public interface Work {

  /**
   * Runs {@code body} for 0 to {@code n - 1}, perhaps in parallel and in any order; returns when
   * all are done. Reports progress and looks for a cancel between items. Each item writes to its
   * own place only; sums over items are made afterwards, in order.
   */
  void forEach(int n, IntConsumer body);

  /** Returns random numbers seeded by the operation's id and {@code seed}, never by data. */
  RandomGenerator random(long seed);

  /** Reports the share done, 0 to 1. */
  void progress(double share);

  /**
   * Looks for a cancel; to be called at least every 50 ms of work.
   *
   * @throws CancelledException if the run was cancelled
   */
  void checkCancelled();

  /**
   * Returns the name of an uncertainty source of this step, {@code address#label}, for a {@link
   * org.slabnote.api.quantity.Measured} budget.
   *
   * @param label what it is, in a word or two: {@code fit, radius}
   */
  String source(String label);

  /**
   * Returns the name of an uncertainty source that this step shares with the like steps over the other
   * passes: {@code group#label}, the group being the address without the pass. For what one instrument or
   * one assumption does to every pass alike, an antenna's height say: such a part does not average out.
   *
   * @param label what it is, in a word or two
   */
  default String commonSource(String label) {
    return source(label);
  }

  /** Returns plain work on the calling thread, for tests and small tools. */
  static Work serial(String address) {
    return new SerialWork(address);
  }
}
