package org.slabnote.engine.run;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.OptionalDouble;
import org.slabnote.engine.cache.SealedFile;
import org.slabnote.worker.Planned;

/**
 * How long steps took, by operation, implementation and size of what they depend on. In the cache folder
 * and never in a record; damaged or missing it only makes an estimate worse.
 */
final class Durations {
  private static final String FILE = "durations";
  private static final int MOST = 4000;
  private static final int MEMORY = 8;

  /**
   * What is remembered of the steps of one size.
   *
   * @param operation id of the operation
   * @param implementation digest of what computes it
   * @param size whole part of the binary logarithm of the size
   * @param count how many there were
   * @param seconds how long one takes, the latest counting most
   * @param bytes their mean size
   */
  record Entry(
      String operation, String implementation, int size, long count, double seconds, double bytes) {
    boolean isSound() {
      return count > 0 && seconds >= 0 && seconds < 1e7 && bytes >= 0 && bytes < 1e15;
    }
  }

  /** All entries, the latest used first. */
  record Content(List<Entry> entries) {
    Content {
      entries = List.copyOf(entries);
    }
  }

  private final Path file;
  private final List<Entry> entries;
  private boolean changed;

  private Durations(Path file, List<Entry> entries) {
    this.file = file;
    this.entries = new ArrayList<>(entries);
  }

  /** What is remembered in a cache folder. */
  static Durations in(Path cache) {
    Path file = cache.resolve(FILE);
    List<Entry> sound = SealedFile.read(file, Content.class)
        .map(content -> content.entries().stream().filter(Entry::isSound).toList())
        .orElse(List.of());
    return new Durations(file, sound);
  }

  /** Seconds that a step may take; empty where its operation was never seen. */
  synchronized OptionalDouble of(Planned step) {
    int size = size(step.bytes());
    return entries.stream()
        .filter(one -> one.operation().equals(step.operation()))
        .min(
            Comparator.comparing((Entry one) -> !one.implementation().equals(step.implementation()))
                .thenComparingInt(one -> Math.abs(one.size() - size)))
        .map(one -> OptionalDouble.of(one.seconds() * scale(step.bytes(), one.bytes())))
        .orElse(OptionalDouble.empty());
  }

  /** Time goes with size, as far as nothing else is known; far from what was seen it is not believed. */
  private static double scale(double bytes, double seen) {
    return bytes <= 0 || seen <= 0 ? 1 : Math.max(0.05, Math.min(20, bytes / seen));
  }

  private static int size(long bytes) {
    return bytes <= 0 ? 0 : 64 - Long.numberOfLeadingZeros(bytes);
  }

  /** Learns how long a step took. */
  synchronized void learn(Planned step, double seconds) {
    int size = size(step.bytes());
    Entry before = null;
    for (Entry one : entries) {
      if (one.operation().equals(step.operation())
          && one.implementation().equals(step.implementation())
          && one.size() == size) {
        before = one;
      }
    }
    Entry after = new Entry(
        step.operation(), step.implementation(), size, 1, Math.max(0, seconds), step.bytes());
    if (before != null) {
      entries.remove(before);
      double weight = 1.0 / Math.min(MEMORY, before.count() + 1);
      after = new Entry(
          before.operation(),
          before.implementation(),
          size,
          before.count() + 1,
          before.seconds() + weight * (after.seconds() - before.seconds()),
          before.bytes() + weight * (after.bytes() - before.bytes()));
    }
    entries.add(0, after);
    changed = true;
  }

  /** Writes what was learnt. */
  synchronized void keep() {
    if (changed) {
      changed = false;
      SealedFile.write(file, new Content(entries.subList(0, Math.min(MOST, entries.size()))));
    }
  }
}
