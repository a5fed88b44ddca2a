package org.slabnote.targets;

import java.util.List;
import java.util.Optional;
import org.slabnote.api.Event;
import org.slabnote.api.quantity.Units;

/**
 * Is a deeper event the second leg of a shallower echo, thrown back by the surface?
 *
 * <p>Time arithmetic: an echo from the depth h1 that the surface sends down again to h2 arrives when an
 * echo with {@code 2 h2} more of way would: h2 the target's own depth, or the base's. It is met within the two depths' picks and a quarter of
 * a period: the phase turns at each reflection. Amplitude: the surface sends back 0.4 to 0.5 of what
 * reaches it (plane wave, permittivity 6 to 9) and the further way spreads it, so it stays below
 * 0.45 of the shallower echo. Phase: the surface from below keeps the sign of the field, a bar turns
 * it, so target-surface-target is reversed against the target; the base over air keeps it. Within 60
 * degrees of that counts as predicted, within 60 degrees of the opposite as against it, all else as
 * neither.
 */
final class Multiples {
  private static final double MOST_AMPLITUDE = 0.45;

  /** Thrown back twice: a bar of its own below would seldom be so weak. */
  private static final double MOST_TWICE = 0.05;

  private static final double PHASE_DEG = 60;

  /** Along the pass, m. */
  static final double SAME_PLACE = 0.025;

  private Multiples() {}

  /** What time, amplitude and phase say together. */
  enum Finding {
    /** All three as predicted. */
    MULTIPLE,
    /** Time as predicted, amplitude or phase against it. */
    OWN,
    /** Time as predicted, amplitude possible, phase between. */
    UNDECIDED
  }

  /**
   * One comparison.
   *
   * @param finding what follows
   * @param words the arithmetic
   */
  record Verdict(Finding finding, String words) {}

  /** Tolerance of the depth arithmetic, m: a quarter of a period, four times the delay's uncertainty. */
  static double tolerance(Event e) {
    double delay = 0;
    for (var entry : e.depth().budget().entrySet()) {
      if (entry.getKey().endsWith("#" + DepthBudget.DELAY)) {
        delay += Math.abs(entry.getValue());
      }
    }
    return Math.max(0.004, 4 * delay);
  }

  /**
   * Depth that an event would be given whose path is that of {@code shallow} plus twice {@code other}:
   * with {@code s^2 = (v t)^2 - 4 h^2} of the shallow event, {@code sqrt((v t + 2 other)^2 - s^2) / 2}.
   */
  static double predicted(Event shallow, double other, double velocity) {
    double path = velocity * shallow.time().value().value();
    double h = shallow.depth().value().value();
    double square = Math.max(0, path * path - 4 * h * h);
    double longer = Math.sqrt(4 * h * h + square) + 2 * other;
    return Math.sqrt(Math.max(0, longer * longer - square)) / 2;
  }

  /** Compares two events of one pass and channel; empty where the time does not fit. */
  static Optional<Verdict> of(
      Event deep,
      Event shallow,
      double otherDepth,
      String otherName,
      double expectedTurn,
      double mostShare,
      double velocity) {
    double predicted = predicted(shallow, otherDepth, velocity);
    double z = deep.depth().value().value();
    double off = z - predicted;
    double own = 2 * Math.min(0.004, deep.depth().u().value());
    if (Math.abs(off) > tolerance(deep) + own || z < shallow.depth().value().value() + 0.01) {
      return Optional.empty();
    }
    double share = deep.amplitude() / shallow.amplitude();
    double turn = turn(deep.phase().value() - shallow.phase().value());
    double unlike = Math.abs(turn(turn - expectedTurn));
    String words =
        "surface sends " + shallow.name() + " down again to " + otherName + ": predicted depth "
            + Units.fixed(predicted * 1000, 1) + " mm, seen " + Units.fixed(z * 1000, 1)
            + " mm; amplitude " + Units.fixed(20 * StrictMath.log10(share), 1) + " dB, phase "
            + Units.fixed(turn, 0) + " deg against it";
    if (share > mostShare || unlike > 180 - PHASE_DEG) {
      return Optional.of(new Verdict(Finding.OWN, words));
    }
    return Optional.of(
        new Verdict(unlike < PHASE_DEG ? Finding.MULTIPLE : Finding.UNDECIDED, words));
  }

  /** The strongest objection against an event among the others of its pass and channel and the base. */
  static Optional<Verdict> against(Event e, List<Event> others, double base, double velocity) {
    Optional<Verdict> result = Optional.empty();
    for (Event s : others) {
      boolean before = s.shape() == Event.Shape.DIFFRACTION
          && s.pass().equals(e.pass())
          && s.channel().equals(e.channel())
          && s.depth().value().compareTo(e.depth().value()) < 0
          && s.distance().value().minus(e.distance().value()).abs().value() < SAME_PLACE;
      if (!before) {
        continue;
      }
      Optional<Verdict> own =
          of(e, s, s.depth().value().value(), "itself", 180, MOST_AMPLITUDE, velocity);
      Optional<Verdict> base2 = Double.isNaN(base)
          ? Optional.empty()
          : of(e, s, base, "the base", 0, MOST_AMPLITUDE, velocity);
      Optional<Verdict> twice =
          of(e, s, 2 * s.depth().value().value(), "itself, twice", 0, MOST_TWICE, velocity);
      for (Optional<Verdict> v : List.of(own, twice, base2)) {
        if (v.isPresent() && (result.isEmpty() || rank(v.get()) < rank(result.get()))) {
          result = v;
        }
      }
    }
    return result;
  }

  private static int rank(Verdict v) {
    return switch (v.finding) {
      case MULTIPLE -> 0;
      case UNDECIDED -> 1;
      case OWN -> 2;
    };
  }

  /** An angle in degrees brought to -180 up to 180. */
  static double turn(double deg) {
    double t = deg % 360;
    return t > 180 ? t - 360 : t < -180 ? t + 360 : t;
  }
}
