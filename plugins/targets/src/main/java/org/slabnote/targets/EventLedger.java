package org.slabnote.targets;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import org.slabnote.api.Event;
import org.slabnote.api.EventState;
import org.slabnote.api.Events;
import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Purpose;
import org.slabnote.api.Step;
import org.slabnote.api.Steps;
import org.slabnote.api.Target;
import org.slabnote.api.TargetClass;
import org.slabnote.api.Targets;
import org.slabnote.api.VelocityEstimate;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Units;

/**
 * Says of every event what became of it.
 *
 * <p>Explained: it is evidence of a finding, or lies on one (25 mm in plan, twice its uncertainty in
 * depth and a quarter of a period). Rejected, with the arithmetic: predicted multiple of the surface
 * (time, amplitude and phase, see {@link LinkEvents}); side of a stronger pulse (the same delay under
 * targets of other depths); crossing arms of two stronger neighbours; at the depth of a plane, or an
 * echo off it, under a finding. All else is open and is told with every cut near it.
 *
 * <p>Arms: an echo of depth z, d to the side, arrives at {@code sqrt(t^2 + (2 d / v)^2)}, t its apex
 * time (a point crossed squarely); where those of two stronger events on both sides agree with the
 * event within a quarter of a period, and it is weaker than both, it is their crossing.
 *
 * <p>Source: ledger, common practice, no source. Check: EventLedgerTest.
 *
 * @param across events of the across scans
 * @param along events of the along scans; may be none
 * @param targets findings, from these events
 * @param velocity velocity of the slab
 * @since 0.1
 */
@Op(id = "targets.event-ledger", revision = 1, purpose = Purpose.TARGETS)
public record EventLedger(
    Steps<Events> across,
    Steps<Events> along,
    Step<Targets> targets,
    Step<VelocityEstimate> velocity)
    implements Operation<Events> {
  private static final double ON_TARGET = 0.025;

  @Override
  public Events apply(Work work) {
    SortedMap<String, List<Event>> byPass = new TreeMap<>();
    List<Event> all = new ArrayList<>();
    for (Steps<Events> steps : List.of(across, along)) {
      for (Step<Events> step : steps.list()) {
        for (Event e : step.get().list()) {
          byPass.computeIfAbsent(e.pass(), p -> new ArrayList<>()).add(e);
          all.add(e);
        }
      }
    }
    List<Target> found = targets.get().list();
    double base = base(found);
    PulseSides sides = PulseSides.of(all);
    double v = velocity.get().velocity().value().value();
    List<Event> judged = new ArrayList<>();
    byPass.forEach((pass, events) -> {
      for (Event e : events) {
        work.checkCancelled();
        judged.add(judge(e, events, found, base, sides, v));
      }
    });
    work.progress(1);
    return new Events(judged);
  }

  /** Depth of the deepest plane among findings, m; NaN where there is none. */
  static double base(List<Target> found) {
    double base = Double.NaN;
    for (Target t : found) {
      if (t.classes().getOrDefault(TargetClass.PLANE, 0.0) >= 0.5) {
        base = t.depth().value().value();
      }
    }
    return base;
  }

  private static Event judge(
      Event e, List<Event> pass, List<Target> found, double base, PulseSides sides, double v) {
    for (Target t : found) {
      if (t.evidence().contains(e.name())) {
        return e.as(EventState.EXPLAINED, t.name());
      }
    }
    if (e.depth().value().compareTo(e.depth().u95()) <= 0) {
      return e.as(
          EventState.REJECTED,
          "in the direct wave: depth " + Units.fixed(e.depth().value().inMillimetres(), 0)
              + " mm is not above its own U95 of "
              + Units.fixed(e.depth().u95().inMillimetres(), 0) + " mm");
    }
    Optional<Multiples.Verdict> multiple = Multiples.against(e, pass, base, v);
    if (multiple.isPresent() && multiple.get().finding() == Multiples.Finding.MULTIPLE) {
      return e.as(EventState.REJECTED, "multiple: " + multiple.get().words());
    }
    if (multiple.isPresent() && multiple.get().finding() == Multiples.Finding.UNDECIDED) {
      Optional<String> twin = twin(e, pass, base, v);
      if (twin.isPresent()) {
        return e.as(EventState.REJECTED, "multiple: " + multiple.get().words() + "; " + twin.get());
      }
    }
    Optional<String> side = sides.of(e, pass);
    if (side.isEmpty() && Objection.isFoot(e, pass, Objection.LEAST_SHARE)) {
      side = Optional.of(
          "within the side of the pulse of a stronger echo less than two periods from it,"
              + " 22 dB or more below it");
    }
    if (side.isPresent()) {
      return e.as(EventState.REJECTED, side.get());
    }
    if (side.isEmpty() && alone(e, pass) && Objection.isCreeping(e, List.of(e), pass)) {
      side = Optional.of(
          "seen in this orientation only, less than two periods from a stronger echo that both"
              + " show: a wave creeping round that target");
    }
    if (side.isPresent()) {
      return e.as(EventState.REJECTED, side.get());
    }
    Optional<Target> on = found.stream().filter(t -> isOn(e, t)).findFirst();
    if (on.isPresent()) {
      return e.as(EventState.EXPLAINED, on.get().name());
    }
    Optional<String> arms = arms(e, pass, v);
    if (arms.isPresent()) {
      return e.as(EventState.REJECTED, arms.get());
    }
    Optional<String> plane = plane(e, found, base);
    if (plane.isPresent()) {
      return e.as(EventState.REJECTED, plane.get());
    }
    return e.as(EventState.OPEN, "");
  }

  /** Whether no event of the other orientation lies at this place and depth. */
  private static boolean alone(Event e, List<Event> pass) {
    for (Event o : pass) {
      double dx = o.distance().value().minus(e.distance().value()).abs().value();
      double dz = o.depth().value().minus(e.depth().value()).abs().value();
      if (!o.channel().equals(e.channel())
          && dx < Multiples.SAME_PLACE
          && dz < Multiples.tolerance(e)) {
        return false;
      }
    }
    return true;
  }

  /** The other orientation's event at this place and depth, if it is a multiple for sure. */
  private static Optional<String> twin(Event e, List<Event> pass, double base, double v) {
    for (Event o : pass) {
      double dx = o.distance().value().minus(e.distance().value()).abs().value();
      double dz = o.depth().value().minus(e.depth().value()).abs().value();
      if (o.channel().equals(e.channel())
          || dx > Multiples.SAME_PLACE
          || dz > Multiples.tolerance(e) + 0.004) {
        continue;
      }
      Optional<Multiples.Verdict> verdict = Multiples.against(o, pass, base, v);
      if (verdict.isPresent() && verdict.get().finding() == Multiples.Finding.MULTIPLE) {
        return Optional.of("so is " + o.name() + " of the other orientation, phase included");
      }
    }
    return Optional.empty();
  }

  /** Whether an event lies on a finding's body line, in plan and depth. */
  private static boolean isOn(Event e, Target t) {
    if (t.end().isEmpty()) {
      return false;
    }
    Body body = Body.of(t);
    double off = body.planDistance(e.place());
    double depth = body.topAt(e.place());
    double gate = e.depth().u95().value() + Multiples.tolerance(e);
    return off <= ON_TARGET && Math.abs(e.depth().value().value() - depth) <= gate;
  }

  private static Optional<String> arms(Event e, List<Event> pass, double v) {
    Optional<String> left = arm(e, pass, v, -1);
    Optional<String> right = arm(e, pass, v, 1);
    if (left.isEmpty() || right.isEmpty()) {
      return Optional.empty();
    }
    return Optional.of("crossing arms: " + left.get() + ", " + right.get() + "; seen at "
        + Units.fixed(e.time().value().value(), 2) + " ns");
  }

  /** The stronger event to one side whose arm passes through this one. */
  private static Optional<String> arm(Event e, List<Event> pass, double v, int side) {
    double quarter = Multiples.tolerance(e) * 2 / v;
    for (Event s : pass) {
      double d = s.distance().value().value() - e.distance().value().value();
      if (!s.channel().equals(e.channel())
          || side * d < 0.03
          || s.amplitude() < 2 * e.amplitude()) {
        continue;
      }
      double t = s.time().value().value();
      double at = Math.sqrt(t * t + 4 * d * d / (v * v));
      if (Math.abs(at - e.time().value().value()) < quarter) {
        return Optional.of(s.name() + " arrives here at " + Units.fixed(at, 2) + " ns");
      }
    }
    return Optional.empty();
  }

  private static Optional<String> plane(Event e, List<Target> found, double base) {
    if (Double.isNaN(base)) {
      return Optional.empty();
    }
    double z = e.depth().value().value();
    double gate = Multiples.tolerance(e);
    for (Target t : found) {
      if (t.end().isPresent() && Body.of(t).planDistance(e.place()) <= ON_TARGET) {
        double top = Body.of(t).topAt(e.place());
        if (Math.abs(z - base) <= gate && top < base - gate) {
          return Optional.of("at the depth of the plane at " + Units.fixed(base * 1000, 0)
              + " mm, under " + t.name() + ": the plane's echo, interrupted by it");
        }
        if (Math.abs(z - base - top) <= gate) {
          return Optional.of("between " + t.name() + " and the plane: predicted depth "
              + Units.fixed((base + top) * 1000, 0) + " mm, seen " + Units.fixed(z * 1000, 0)
              + " mm");
        }
      }
    }
    return Optional.empty();
  }
}
