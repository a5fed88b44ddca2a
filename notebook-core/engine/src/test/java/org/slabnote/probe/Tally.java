package org.slabnote.probe;

import java.util.Map;
import java.util.TreeMap;

/** How often each operation was computed in this process. */
public final class Tally {
  private static final Map<String, Integer> COUNTS = new TreeMap<>();

  private Tally() {}

  /** Counts one. */
  public static synchronized void count(String what) {
    COUNTS.merge(what, 1, Integer::sum);
  }

  /** Returns what was counted since the last call. */
  public static synchronized Map<String, Integer> take() {
    Map<String, Integer> counts = new TreeMap<>(COUNTS);
    COUNTS.clear();
    return counts;
  }
}
