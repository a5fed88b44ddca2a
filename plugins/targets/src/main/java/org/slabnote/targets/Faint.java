package org.slabnote.targets;

import java.util.ArrayList;
import java.util.List;
import java.util.SortedMap;
import java.util.TreeMap;
import org.slabnote.api.Event;
import org.slabnote.methods.fit.RobustFigures;

/**
 * Which events are far too weak to be a bar, tendon or pipe like the strongest echoes of the survey.
 *
 * <p>Levels are compared at equal path: amplitude falls at least as {@code path^-1.5} (a line target),
 * path the way from antenna to antenna. Reference of a channel: of each pass the greatest amplitude
 * times path^1.5, of these the value that four passes in five stay below. Faint: 20 dB below that, and
 * 3 dB more for each 0.1 m of path beyond 0.1 m (a loss of 30 dB/m one way, a wet slab). An empty
 * plastic pipe is some 7 dB weaker than a bar, one under a bar 12 dB more (common practice, no source).
 */
final class Faint {
  private static final double FAINT_DB = 20;
  private static final double LOSS_DB_PER_PATH = 30;
  private static final double FREE_PATH = 0.1;
  private static final double MANY = 0.8;

  private final SortedMap<String, Double> references = new TreeMap<>();
  private final double velocity;

  private Faint(double velocity) {
    this.velocity = velocity;
  }

  static Faint of(List<Event> all, double velocity) {
    Faint faint = new Faint(velocity);
    SortedMap<String, SortedMap<String, Double>> best = new TreeMap<>();
    for (Event e : all) {
      best.computeIfAbsent(e.channel(), c -> new TreeMap<>())
          .merge(e.pass(), e.amplitude() * faint.spread(e), Math::max);
    }
    best.forEach((channel, passes) -> {
      List<Double> values = new ArrayList<>(passes.values());
      double[] array = values.stream().mapToDouble(d -> d).toArray();
      faint.references.put(channel, RobustFigures.quantile(array, MANY));
    });
    return faint;
  }

  private double path(Event e) {
    return Math.max(1e-3, velocity * e.time().value().value());
  }

  private double spread(Event e) {
    return StrictMath.pow(path(e), 1.5);
  }

  boolean is(Event e) {
    double reference = references.getOrDefault(e.channel(), 0.0);
    if (reference == 0) {
      return false;
    }
    double level = 20 * StrictMath.log10(Math.max(1e-12, e.amplitude() * spread(e) / reference));
    double allowed = FAINT_DB + LOSS_DB_PER_PATH * Math.max(0, path(e) - FREE_PATH);
    return level < -allowed;
  }
}
