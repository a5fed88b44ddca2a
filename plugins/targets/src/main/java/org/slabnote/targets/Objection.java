package org.slabnote.targets;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.slabnote.api.Event;
import org.slabnote.api.quantity.Units;
import org.slabnote.methods.fit.RobustFigures;

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

  /** A creeping wave stays below this share of its echo (thin bars: see PairTheory). */
  private static final double CREEPING_SHARE = 0.35;

  /** What filters leave beside a pulse stays below this share of it (common practice, no source). */
  static final double LEAST_SHARE = 0.08;

  /** At the plane's depth, what is weaker than this share of it is what filters left of it. */
  private static final double REMAINS = 0.7;

  private static final Objection NONE = new Objection(false, false, "");

  boolean isTarget() {
    return !refused;
  }

  /**
   * Judges sightings together: refused where most are multiples, sides of pulses, or faint; doubtful
   * where most are that or undecided. Below the base, at its depth: doubtful.
   */
  static Objection of(
      List<Sighting> members,
      List<Sighting> all,
      double base,
      double baseAmplitude,
      PulseSides sides,
      Faint faint,
      double velocity) {
    int refused = 0;
    int undecided = 0;
    int weak = 0;
    int faintOnes = 0;
    String words = "";
    for (Sighting s : members) {
      List<Event> others = others(s, all);
      Judged j = judged(s, others, base, sides, velocity);
      faintOnes += s.events().stream().allMatch(faint::is) ? 1 : 0;
      refused += j.finding == Multiples.Finding.MULTIPLE ? 1 : 0;
      undecided += j.finding == Multiples.Finding.UNDECIDED ? 1 : 0;
      weak += j.finding == Multiples.Finding.OWN && isFoot(s.best(), others, FOOT_SHARE) ? 1 : 0;
      words = words.isEmpty() ? j.words : words;
    }
    int n = members.size();
    if (2 * refused > n || 2 * faintOnes > n) {
      return new Objection(true, false, words);
    }
    if (2 * (refused + undecided) > n) {
      return new Objection(
          false, true, "perhaps a multiple: " + words + "; amplitude and phase do not decide");
    }
    if (2 * (refused + undecided + weak) > n) {
      return new Objection(
          false,
          true,
          "weak, less than two periods from a stronger echo at the same place: perhaps the side of its"
              + " pulse, or an echo within that target");
    }
    return deep(members, base, baseAmplitude);
  }

  private static List<Event> others(Sighting s, List<Sighting> all) {
    List<Event> others = new ArrayList<>();
    for (Sighting o : all) {
      if (o.pass() == s.pass() && !o.best().name().equals(s.best().name())) {
        others.addAll(o.events());
      }
    }
    return others;
  }

  private record Judged(Multiples.Finding finding, String words) {}

  /**
   * What a sighting's events say together: one that is surely its own decides for that; else one that
   * is surely a multiple, or the side of a pulse, for that.
   */
  private static Judged judged(
      Sighting s, List<Event> others, double base, PulseSides sides, double velocity) {
    Judged result = new Judged(Multiples.Finding.OWN, "");
    boolean own = false;
    for (Event e : s.events()) {
      Optional<Multiples.Verdict> v = Multiples.against(e, others, base, velocity);
      Optional<String> side = sides.of(e, others);
      if (side.isEmpty() && (isFoot(e, others, LEAST_SHARE) || isCreeping(e, s.events(), others))) {
        side = Optional.of("within the side of the pulse of a stronger echo beside it");
      }
      if (side.isPresent()) {
        result = new Judged(Multiples.Finding.MULTIPLE, side.get());
      } else if (v.isPresent() && v.get().finding() == Multiples.Finding.MULTIPLE) {
        result = new Judged(Multiples.Finding.MULTIPLE, v.get().words());
      } else if (v.isPresent() && v.get().finding() == Multiples.Finding.UNDECIDED) {
        result = result.finding == Multiples.Finding.MULTIPLE
            ? result
            : new Judged(Multiples.Finding.UNDECIDED, v.get().words());
      } else {
        own |= v.isPresent();
      }
    }
    return own ? new Judged(Multiples.Finding.OWN, "") : result;
  }

  /**
   * A foot that one orientation shows alone, of an echo that both show: round a bar that lies across its
   * field a wave creeps, and follows the echo.
   */
  static boolean isCreeping(Event e, List<Event> together, List<Event> others) {
    boolean alone = together.stream().allMatch(t -> t.channel().equals(e.channel()));
    if (!alone) {
      return false;
    }
    for (Event parent : others) {
      boolean both = others.stream()
          .anyMatch(o -> !o.channel().equals(parent.channel())
              && near(o, parent, 2 * Multiples.tolerance(parent)));
      if (both && isFoot(e, List.of(parent), CREEPING_SHARE)) {
        return true;
      }
    }
    return false;
  }

  private static boolean near(Event a, Event b, double gate) {
    return a.distance().value().minus(b.distance().value()).abs().value() < Multiples.SAME_PLACE
        && a.depth().value().minus(b.depth().value()).abs().value() < gate;
  }

  /** At most so strong, against an echo less than 1.7 periods away at the same place. */
  static boolean isFoot(Event e, List<Event> others, double share) {
    for (Event o : others) {
      double dz = e.depth().value().minus(o.depth().value()).value();
      double dx = e.distance().value().minus(o.distance().value()).abs().value();
      if (!o.name().equals(e.name())
          && o.channel().equals(e.channel())
          && dx < Multiples.SAME_PLACE
          && Math.abs(dz) < FOOT_QUARTERS * Multiples.tolerance(o)
          && e.amplitude() < share * o.amplitude()) {
        return true;
      }
    }
    return false;
  }

  private static Objection deep(List<Sighting> members, double base, double baseAmplitude) {
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
      double[] levels = members.stream().mapToDouble(m -> m.best().amplitude()).toArray();
      if (RobustFigures.median(levels) < REMAINS * baseAmplitude) {
        return new Objection(true, false, "what is left of the plane's own echo");
      }
      return new Objection(
          false,
          true,
          "at the depth of the plane at " + Units.fixed(base * 1000, 0)
              + " mm: perhaps the plane's own echo, interrupted by what lies above it");
    }
    return NONE;
  }
}
