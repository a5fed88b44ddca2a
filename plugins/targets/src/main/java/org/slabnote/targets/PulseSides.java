package org.slabnote.targets;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.slabnote.api.Event;
import org.slabnote.api.quantity.Units;

/**
 * Tells the sides of a pulse: weak copies that follow, or lead, every strong echo by one and the same
 * delay, whatever its depth. Filters and antennas make them; a multiple's delay grows with the depth.
 *
 * <p>A pair is a strong event and a weaker one at the same place of the same pass and channel, less
 * than a third as strong, up to three periods away. It is a side where pairs at three places or more
 * whose strong events lie at other depths (by more than a quarter of a period) have its delay within an
 * eighth of a period, its level within 8 dB and its turn of phase within 90 degrees.
 */
final class PulseSides {
  private static final double MOST_SHARE = 0.33;
  private static final double LEVEL_DB = 8;
  private static final double TURN_DEG = 90;
  private static final int LEAST_PAIRS = 3;

  private record Pair(
      String channel, String strong, double depth, double delay, double level, double turn) {}

  private final List<Pair> pairs;

  private PulseSides(List<Pair> pairs) {
    this.pairs = pairs;
  }

  static PulseSides of(List<Event> all) {
    List<Pair> pairs = new ArrayList<>();
    for (Event weak : all) {
      for (Event strong : all) {
        if (related(weak, strong)) {
          pairs.add(pair(weak, strong));
        }
      }
    }
    return new PulseSides(pairs);
  }

  private static boolean related(Event weak, Event strong) {
    if (weak.equals(strong)
        || !weak.pass().equals(strong.pass())
        || !weak.channel().equals(strong.channel())
        || weak.amplitude() > MOST_SHARE * strong.amplitude()) {
      return false;
    }
    double dx = weak.distance().value().minus(strong.distance().value()).abs().value();
    double dz = weak.depth().value().minus(strong.depth().value()).abs().value();
    return dx < Multiples.SAME_PLACE && dz < 12 * Multiples.tolerance(strong);
  }

  private static Pair pair(Event weak, Event strong) {
    return new Pair(
        weak.channel(),
        strong.name(),
        strong.depth().value().value(),
        weak.time().value().minus(strong.time().value()).value(),
        20 * StrictMath.log10(weak.amplitude() / strong.amplitude()),
        Multiples.turn(weak.phase().value() - strong.phase().value()));
  }

  /** Why an event is the side of a stronger one's pulse; empty where it is not. */
  Optional<String> of(Event weak, List<Event> others) {
    for (Event strong : others) {
      if (!related(weak, strong)) {
        continue;
      }
      Pair p = pair(weak, strong);
      double perDepth = strong.time().value().value() / strong.depth().value().value();
      double eighth = Multiples.tolerance(strong) * perDepth / 2;
      int same = 0;
      for (Pair q : pairs) {
        boolean alike = q.channel.equals(p.channel)
            && Math.abs(q.depth - p.depth) > Multiples.tolerance(strong)
            && Math.abs(q.delay - p.delay) < eighth
            && Math.abs(q.level - p.level) < LEVEL_DB
            && Math.abs(Multiples.turn(q.turn - p.turn)) < TURN_DEG;
        same += alike ? 1 : 0;
      }
      if (same >= LEAST_PAIRS) {
        return Optional.of("side of the pulse of " + strong.name() + ": " + Units.fixed(p.delay, 2)
            + " ns after it and " + Units.fixed(p.level, 0) + " dB against it, as at " + same
            + " other places over targets of other depths");
      }
    }
    return Optional.empty();
  }
}
