package org.slabnote.engine.run;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.TreeMap;
import org.slabnote.worker.Planned;

/**
 * Estimates the time that a run still takes: the longest chain of steps that wait for each other, or all
 * their work shared among the threads, whichever is longer. Steps of an operation that was never seen
 * make it a lower bound; as long as nothing is known it says nothing.
 */
final class Estimate {
  private static final double LITTLE = 0.05;
  private static final double CERTAIN_SHARE = 0.05;

  private final Durations durations;
  private final int threads;
  private final TreeMap<Integer, Planned> open = new TreeMap<>();
  private final Map<String, Planned> known = new HashMap<>();
  private final Map<String, Double> begun = new HashMap<>();
  private final Map<String, Double> shares = new HashMap<>();
  private final Set<String> over = new HashSet<>();
  private final Steadied steadied = new Steadied();
  private int done;
  private int needed;
  private boolean more;
  private boolean whole;

  Estimate(Durations durations, int threads) {
    this.durations = durations;
    this.threads = threads;
  }

  synchronized void planned(List<Planned> steps) {
    for (Planned step : steps) {
      known.put(step.address(), step);
      if (!over.contains(step.address())) {
        open.put(step.index(), step);
        more = true;
      }
    }
  }

  synchronized void started(String address, double now) {
    begun.put(address, now);
  }

  synchronized void progress(String address, double share) {
    shares.merge(address, share, Math::max);
  }

  synchronized void finished(String address, double seconds) {
    over.add(address);
    begun.remove(address);
    shares.remove(address);
    Planned step = known.get(address);
    if (step != null) {
      open.remove(step.index());
      durations.learn(step, seconds);
    }
  }

  synchronized void counted(int nowDone, int nowNeeded) {
    done = nowDone;
    needed = nowNeeded;
  }

  /** All cells were replayed: nothing more becomes known. */
  synchronized void complete() {
    whole = true;
  }

  /**
   * The outlook.
   *
   * @param now seconds on the clock of {@link #started}
   */
  synchronized Outlook now(double now) {
    Map<String, Double> ends = new HashMap<>();
    double work = 0;
    double longest = 0;
    boolean all = true;
    List<Outlook.Running> running = new ArrayList<>();
    for (Planned step : open.values()) {
      OptionalDouble left = left(step, now);
      if (begun.containsKey(step.address())) {
        running.add(new Outlook.Running(
            step.address(), step.operation(), shares.getOrDefault(step.address(), 0.0), left));
      }
      all &= left.isPresent();
      double own = left.orElse(0);
      double end = own;
      for (String input : step.inputs()) {
        end = Math.max(end, own + ends.getOrDefault(input, 0.0));
      }
      ends.put(step.address(), end);
      work += own;
      longest = Math.max(longest, end);
    }
    double seconds = Math.max(longest, work / threads);
    if (open.isEmpty() || seconds <= 0) {
      return new Outlook(done, needed, OptionalDouble.empty(), false, running);
    }
    double shown = steadied.next(seconds, now, more);
    more = false;
    return new Outlook(done, needed, OptionalDouble.of(shown), whole && all, running);
  }

  /** Seconds that a step still takes: by its share where it tells one, else by earlier steps alike. */
  private OptionalDouble left(Planned step, double now) {
    OptionalDouble usual = durations.of(step);
    Double start = begun.get(step.address());
    if (start == null) {
      return usual;
    }
    double spent = Math.max(0, now - start);
    double share = Math.min(1, shares.getOrDefault(step.address(), 0.0));
    if (share >= CERTAIN_SHARE && spent > 0) {
      double byShare = spent * (1 - share) / share;
      // the nearer the end, the more the share counts
      return OptionalDouble.of(
          usual.isPresent()
              ? share * byShare + (1 - share) * usual.getAsDouble() * (1 - share)
              : byShare);
    }
    return usual.isPresent()
        ? OptionalDouble.of(
            Math.max(usual.getAsDouble() - spent, LITTLE * Math.max(usual.getAsDouble(), spent)))
        : usual;
  }
}
