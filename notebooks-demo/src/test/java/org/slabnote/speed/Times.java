package org.slabnote.speed;

import java.util.Arrays;
import java.util.Locale;

/**
 * Times of one thing, in milliseconds.
 *
 * @param millis one for each round
 */
@SuppressWarnings("ArrayRecordComponent") // made and read here only
record Times(double[] millis) {
  /** Something to time. */
  interface Timed {
    void run() throws Exception;
  }

  static double millis(Timed timed) throws Exception {
    long start = System.nanoTime();
    timed.run();
    return (System.nanoTime() - start) / 1e6;
  }

  double median() {
    double[] sorted = millis.clone();
    Arrays.sort(sorted);
    int n = sorted.length;
    return n % 2 == 1 ? sorted[n / 2] : (sorted[n / 2 - 1] + sorted[n / 2]) / 2;
  }

  private double least() {
    return Arrays.stream(millis).min().orElse(Double.NaN);
  }

  private double most() {
    return Arrays.stream(millis).max().orElse(Double.NaN);
  }

  /** Returns median, least and most: {@code 1.74 s (1.70 to 1.91)} or {@code 83 ms (79 to 120)}. */
  @Override
  public String toString() {
    return median() < 1000
        ? String.format(Locale.ROOT, "%.3g ms (%.3g to %.3g)", median(), least(), most())
        : String.format(
            Locale.ROOT, "%.2f s (%.2f to %.2f)", median() / 1000, least() / 1000, most() / 1000);
  }

  /** Returns how many times another's median this one is: {@code 3.2}. */
  String ratio(Times peer) {
    return String.format(Locale.ROOT, "%.2f", median() / peer.median());
  }
}
