package org.slabnote.targets;

import static org.slabnote.api.quantity.Units.fixed;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.TreeMap;
import org.slabnote.api.Conclusion;
import org.slabnote.api.Cut;
import org.slabnote.api.Event;
import org.slabnote.api.EventState;
import org.slabnote.api.Events;
import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Param;
import org.slabnote.api.Purpose;
import org.slabnote.api.Step;
import org.slabnote.api.Target;
import org.slabnote.api.Targets;
import org.slabnote.api.Verdict;
import org.slabnote.api.Visibility;
import org.slabnote.api.Work;

/**
 * How a proposed cut stands to what was found, and to what could not be seen.
 *
 * <p>Distance: from the surface of the cut's ground (an upright cylinder or slot to its depth) to the
 * surface of each target, in space; negative within. Budget: across, depth, diameter, transfer of the
 * mark (5 mm, common practice, no source). Required: the greatest clearance of the classes that are not
 * excluded (5 %); none set counts as 0 and is said. Decision by guard band (JCGM 106:2012, 8.3): the
 * expanded uncertainty of the distance. In this order:
 *
 * <ol>
 *   <li>infringes: a target's distance is not above what is required;
 *   <li>not resolved: it is above by less than its expanded uncertainty; or the target itself is not
 *       resolved; or it comes as near if it runs on 0.3 m beyond the passes that saw it; or an open
 *       event 6 dB or more above clutter, and a third as strong as findings are at its depth or more, lies within 50 mm or what is required, whichever is greater;
 *   <li>not seen: a part of the cut's ground, or of the required clearance around it, lies outside every
 *       pass's half-width, or nothing could be seen there;
 *   <li>nothing detected within X down to Z. X: distance of the nearest target less its expanded
 *       uncertainty, as far as the ground around was seen, 150 mm at most.
 * </ol>
 *
 * <p>A plane (the base) is no obstacle and is named. None of the four is a permission: that is the
 * engineer's.
 *
 * @param targets findings
 * @param cut the proposed cut
 * @param visibility what could be seen
 * @param ledger all events with their states
 * @since 0.1
 */
@Op(id = "targets.clearance", revision = 1, purpose = Purpose.TARGETS)
public record Clearance(
    Step<Targets> targets,

    @Param(meaning = "the proposed cut: place, diameter, depth and required clearances")
    Cut cut,

    Step<Visibility> visibility,
    Step<Events> ledger)
    implements Operation<Conclusion> {
  private static final double OPEN_LEVEL_DB = 6;
  private static final double OPEN_SHARE = 1.0 / 3;
  private static final double OPEN_NEAR = 0.05;
  private static final double FARTHEST = 0.15;

  @Override
  public Conclusion apply(Work work) {
    Visibility seen = visibility.get();
    List<Nearness> near = new ArrayList<>();
    for (Target t : targets.get().list()) {
      work.checkCancelled();
      if (!Nearness.isPlane(t)) {
        near.add(Nearness.of(cut, t, seen, work));
      }
    }
    // the worst first: the likeliest to be nearer than required, then the nearest
    near.sort(Comparator.<Nearness>comparingDouble(n -> -n.probabilityBelow(n.required()))
        .thenComparingDouble(Nearness::margin)
        .thenComparing(n -> n.target().name()));
    work.progress(1);
    return judged(near, seen);
  }

  private Conclusion judged(List<Nearness> near, Visibility seen) {
    CutSolid solid = CutSolid.of(cut);
    double required = near.stream().mapToDouble(Nearness::required).max().orElse(greatest());
    Seen ground = Seen.of(solid, required, seen);
    Optional<Nearness> first = near.stream().findFirst();
    Optional<Nearness> hit = near.stream()
        .filter(n -> n.margin() <= 0 && n.target().status() != Target.Status.NOT_RESOLVED)
        .findFirst();
    if (hit.isPresent()) {
      return conclusion(Verdict.INFRINGES, infringes(hit.get()), hit, ground, 0);
    }
    for (Nearness n : near) {
      Optional<String> doubt = doubt(n);
      if (doubt.isPresent()) {
        return conclusion(Verdict.NOT_RESOLVED, doubt.get(), Optional.of(n), ground, 0);
      }
    }
    List<Event> open = open(solid, required);
    if (!open.isEmpty()) {
      return conclusion(Verdict.NOT_RESOLVED, open(open, solid), first, ground, 0);
    }
    if (ground.reach() == 0) {
      return conclusion(
          Verdict.NOT_SEEN,
          "part of its ground" + (required > 0 ? " or of the required clearance around it" : "")
              + " was not scanned, or nothing could have been seen there",
          first,
          ground,
          0);
    }
    double within = within(near, solid, seen);
    return conclusion(
        Verdict.NOTHING_DETECTED_WITHIN,
        "nothing detected within " + mm(within) + " down to " + mm(ground.reach())
            + "; smallest detectable metal bar there " + mm(ground.smallest()),
        first,
        ground,
        within);
  }

  private double greatest() {
    return cut.required().values().stream().mapToDouble(l -> l.value()).max().orElse(0);
  }

  private static String infringes(Nearness n) {
    double d = n.distance().value().value();
    return n.target().name()
        + (d < 0 ? " lies in the cut and reaches " + mm(-d) + " into it" : " is " + mm(d) + " away")
        + " (U95 "
        + mm(n.distance().u95().value()) + ")";
  }

  private static Optional<String> doubt(Nearness n) {
    double u95 = n.distance().u95().value();
    String name = n.target().name();
    String where =
        name + ", distance " + mm(n.distance().value().value()) + " (U95 " + mm(u95) + ")";
    if (n.margin() < u95) {
      return Optional.of(
          n.target().status() == Target.Status.NOT_RESOLVED
              ? where + ": itself not resolved: " + n.target().alternatives()
              : where + ": the uncertainty spans the required clearance");
    }
    return n.onwardMatters()
        ? Optional.of(where + ": it would be " + mm(n.onward())
            + " away if it runs on beyond the passes that saw it")
        : Optional.empty();
  }

  /** Open events, well above clutter, whose place lies near the cut, nearest first. */
  private List<Event> open(CutSolid solid, double required) {
    double gate = Math.max(OPEN_NEAR, required);
    List<Event> all = ledger.get().list();
    return all.stream()
        .filter(e -> e.state() == EventState.OPEN && e.shape() == Event.Shape.DIFFRACTION)
        .filter(e -> e.signalToNoise().value() >= OPEN_LEVEL_DB)
        .filter(e -> asStrongAsABar(e, all))
        .filter(e -> solid.distance(e.place(), e.depth().value().value()) <= gate)
        .sorted(Comparator.<Event>comparingDouble(
                e -> solid.distance(e.place(), e.depth().value().value()))
            .thenComparing(Event::name))
        .toList();
  }

  /** At least a third of what the explained events of its channel show at its depth. */
  private static boolean asStrongAsABar(Event e, List<Event> all) {
    List<double[]> points = new ArrayList<>();
    for (Event o : all) {
      if (o.state() == EventState.EXPLAINED
          && o.channel().equals(e.channel())
          && o.shape() == Event.Shape.DIFFRACTION
          && o.depth().value().value() > 0) {
        points.add(new double[] {o.depth().value().value(), o.amplitude(), 0});
      }
    }
    Levels levels = Levels.of(points);
    double depth = Math.max(0.01, e.depth().value().value());
    return !levels.known() || e.amplitude() >= OPEN_SHARE * levels.at(depth);
  }

  private static String open(List<Event> open, CutSolid solid) {
    Event e = open.get(0);
    return open.size() + (open.size() == 1 ? " open event" : " open events") + " near, the nearest "
        + e.name() + " at depth " + mm(e.depth().value().value()) + ", "
        + mm(Math.max(0, solid.distance(e.place(), e.depth().value().value()))) + " from the cut";
  }

  /** How far around nothing was detected and the ground was seen, m, in steps of 5 mm. */
  private static double within(List<Nearness> near, CutSolid solid, Visibility seen) {
    double most = FARTHEST;
    for (Nearness n : near) {
      most = Math.min(most, n.distance().value().value() - n.distance().u95().value());
    }
    double within = 0;
    for (int k = 1; k * 0.005 <= most && Seen.of(solid, k * 0.005, seen).reach() > 0; k++) {
      within = k * 0.005;
    }
    return within;
  }

  private Conclusion conclusion(
      Verdict verdict, String what, Optional<Nearness> n, Seen ground, double within) {
    TreeMap<String, Double> figures = new TreeMap<>();
    StringBuilder words = new StringBuilder(cut.name()).append(": ");
    words.append(verdict == Verdict.NOTHING_DETECTED_WITHIN ? what : verdict.words() + ": " + what);
    n.ifPresent(nearest -> {
      figures.put("distance_m", nearest.distance().value().value());
      figures.put("required_m", nearest.required());
      figures.put("contact_probability_1", nearest.probabilityBelow(0));
      figures.put("infringement_probability_1", nearest.probabilityBelow(nearest.required()));
      if (verdict == Verdict.NOTHING_DETECTED_WITHIN || verdict == Verdict.NOT_SEEN) {
        words
            .append("; nearest finding ")
            .append(nearest.target().name())
            .append(", ")
            .append(mm(nearest.distance().value().value()))
            .append(" away (U95 ")
            .append(mm(nearest.distance().u95().value()))
            .append(")");
      }
    });
    if (verdict == Verdict.NOTHING_DETECTED_WITHIN) {
      figures.put("within_m", within);
    }
    if (ground.reach() > 0) {
      figures.put("seen_to_m", ground.reach());
      figures.put("smallest_m", ground.smallest());
    }
    words.append(required(n)).append(unseen(ground)).append(planes());
    return new Conclusion(
        cut.name(),
        words
            .append(". A reading of radar scans; whether to cut is for the engineer of record")
            .toString(),
        verdict,
        n.map(k -> k.distance().minus(exact(k.required()))),
        n.map(k -> k.target().name()),
        figures);
  }

  private static org.slabnote.api.quantity.Measured<org.slabnote.api.quantity.Length> exact(
      double m) {
    return org.slabnote.api.quantity.Measured.exact(new org.slabnote.api.quantity.Length(m));
  }

  private String required(Optional<Nearness> n) {
    if (cut.required().isEmpty()) {
      return "; no required clearance was set";
    }
    return "; required clearance " + mm(n.map(Nearness::required).orElse(greatest()));
  }

  private String unseen(Seen ground) {
    if (ground.reach() == 0) {
      return "; not seen: some of the ground here at any depth";
    }
    double depth = cut.depth().value();
    return "; not seen: "
        + (depth > ground.reach()
            ? "from " + mm(ground.reach()) + " to the cut's depth of " + mm(depth) + ", "
            : "")
        + "bars thinner than " + mm(ground.smallest())
        + ", weak echoes of plastic, anything in the shadow of a bar";
  }

  private String planes() {
    StringBuilder words = new StringBuilder();
    for (Target t : Nearness.planes(targets.get().list())) {
      if (t.depth().value().value() <= cut.depth().value()) {
        words
            .append("; it goes through the plane ")
            .append(t.name())
            .append(" at ")
            .append(mm(t.depth().value().value()));
      }
    }
    return words.toString();
  }

  private static String mm(double metres) {
    return fixed(metres * 1000, 0) + " mm";
  }
}
