package org.slabnote.worker.store;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.TimeUnit;

/** Deletes what was used longest ago. */
final class Trim {
  /** What was used within this time may be in use by another process: it stays. */
  static final long IN_USE = TimeUnit.MINUTES.toMillis(15);

  /** A part is written in seconds; one as old as this was left by a process that was killed. */
  private static final long DEAD_PART = TimeUnit.HOURS.toMillis(1);

  /** A time as far ahead as this was written before the clock was set back: it says nothing. */
  private static final long AHEAD = TimeUnit.MINUTES.toMillis(5);

  private final Shelves shelves;
  private final long now = System.currentTimeMillis();

  Trim(Shelves shelves) {
    this.shelves = shelves;
  }

  private long age(Shelves.Entry entry) {
    return entry.used() > now + AHEAD ? Long.MAX_VALUE : now - entry.used();
  }

  /** Deletes down to {@code goal} bytes where more than {@code most} are there. */
  void to(long most, long goal) throws IOException {
    deadParts();
    List<Shelves.Entry> values = Shelves.entries(shelves.values);
    List<Shelves.Entry> keys = Shelves.entries(shelves.keys);
    List<Shelves.Entry> all = new ArrayList<>(values);
    all.addAll(keys);
    long size = all.stream().mapToLong(Shelves.Entry::bytes).sum();
    if (size <= most) {
      return;
    }
    all.sort(Comparator.<Shelves.Entry>comparingLong(this::age)
        .reversed()
        .thenComparing(Shelves.Entry::file));
    Set<Path> gone = new HashSet<>();
    for (Shelves.Entry entry : all) {
      if (size <= goal || age(entry) < IN_USE) {
        break;
      }
      if (unusedSince(entry)) {
        Shelves.delete(entry.file());
        gone.add(entry.file());
        size -= entry.bytes();
      }
    }
    orphans(keys, values, gone);
  }

  private static boolean unusedSince(Shelves.Entry entry) throws IOException {
    return Shelves.entry(entry.file()).filter(entry::equals).isPresent();
  }

  /** A key whose value is gone leads nowhere; a value without a key grows old and goes by itself. */
  private void orphans(List<Shelves.Entry> keys, List<Shelves.Entry> values, Set<Path> gone)
      throws IOException {
    Set<String> there = new HashSet<>();
    for (Shelves.Entry value : values) {
      if (!gone.contains(value.file())) {
        there.add(value.digest());
      }
    }
    for (Shelves.Entry key : keys) {
      if (!gone.contains(key.file()) && age(key) >= IN_USE) {
        Optional<String> digest = KeyLine.read(shelves, key.digest());
        if ((digest.isEmpty() || !there.contains(digest.get())) && unusedSince(key)) {
          Shelves.delete(key.file());
        }
      }
    }
  }

  void deadParts() throws IOException {
    for (Shelves.Entry part : shelves.partEntries()) {
      if (age(part) > DEAD_PART) {
        Shelves.delete(part.file());
      }
    }
  }
}
