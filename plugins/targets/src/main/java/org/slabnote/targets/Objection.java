package org.slabnote.targets;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.slabnote.api.Event;
import org.slabnote.api.quantity.Units;

/**
 * What speaks against a line or point being a target of its own.
 *
 * @param refused it is something else for sure enough
 * @param isDoubt it may be something else
 * @param words why
 */
record Objection(boolean refused, boolean isDoubt, String words) {
  private static final double FOOT_QUARTERS = 6.8;
  private static final double FOOT_SHARE = 0.25;

  private static final Objection NONE = new Objection(false, false, "");

  boolean isTarget() {
    return !refused;
  }

  /**
   * Judges sightings together: refused where most of their events are multiples or sides of pulses,
   * doubtful where most are multiples or undecided. Below the base, at its depth: doubtful.
   */
  static Objection of(
      List<Sighting> members, List<Sighting> all, double base, PulseSides sides, double velocity) {
    int multiples = 0;
    int undecided = 0;
    int compared = 0;
    int weak = 0;
    String words = "";
    for (Sighting s : members) {
      List<Event> others = new ArrayList<>();
      for (Sighting o : all) {
        if (o.pass() == s.pass() && !o.equals(s)) {
          others.addAll(o.events());
        }
      }
      for (Event e : s.events()) {
        compared++;
        Optional<Multiples.Verdict> v = Multiples.against(e, others, base, velocity);
        Optional<String> side = sides.of(e, others);
        if (side.isPresent()) {
          multiples++;
          words = words.isEmpty() ? side.get() : words;
        } else if (v.isPresent() && v.get().finding() != Multiples.Finding.OWN) {
          multiples += v.get().finding() == Multiples.Finding.MULTIPLE ? 1 : 0;
          undecided += v.get().finding() == Multiples.Finding.UNDECIDED ? 1 : 0;
          words = words.isEmpty() ? v.get().words() : words;
        } else {
          weak += isFoot(e, others) ? 1 : 0;
        }
      }
    }
    if (2 * multiples > compared) {
      return new Objection(true, false, words);
    }
    if (2 * (multiples + undecided) > compared) {
      return new Objection(
          false, true, "perhaps a multiple: " + words + "; amplitude and phase do not decide");
    }
    if (2 * (multiples + undecided + weak) > compared) {
      return new Objection(
          false,
          true,
          "weak, less than two periods after a stronger echo at the same place: perhaps the side of its"
              + " pulse, or an echo within that target");
    }
    return deep(members, base);
  }

  /** A quarter as strong as an echo less than 1.7 periods before it, or weaker. */
  private static boolean isFoot(Event e, List<Event> others) {
    for (Event o : others) {
      double dz = e.depth().value().minus(o.depth().value()).value();
      double dx = e.distance().value().minus(o.distance().value()).abs().value();
      if (o.channel().equals(e.channel())
          && dx < Multiples.SAME_PLACE
          && dz > 0
          && dz < FOOT_QUARTERS * Multiples.tolerance(o)
          && e.amplitude() < FOOT_SHARE * o.amplitude()) {
        return true;
      }
    }
    return false;
  }

  private static Objection deep(List<Sighting> members, double base) {
    if (Double.isNaN(base)) {
      return NONE;
    }
    double depth = members.stream().mapToDouble(Sighting::depth).average().orElse(0);
    Event first = members.get(0).best();
    double tolerance = Multiples.tolerance(first);
    if (depth > base + tolerance) {
      return new Objection(
          false,
          true,
          "below the plane at " + Units.fixed(base * 1000, 0)
              + " mm: perhaps an echo within the slab that went there and back again");
    }
    if (depth > base - tolerance) {
      return new Objection(
          false,
          true,
          "at the depth of the plane at " + Units.fixed(base * 1000, 0)
              + " mm: perhaps the plane's own echo, interrupted by what lies above it");
    }
    return NONE;
  }
}
