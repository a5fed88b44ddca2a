package org.slabnote.targets;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.TreeSet;
import org.slabnote.api.Event;
import org.slabnote.api.Events;
import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Param;
import org.slabnote.api.Point;
import org.slabnote.api.Purpose;
import org.slabnote.api.Step;
import org.slabnote.api.Steps;
import org.slabnote.api.Target;
import org.slabnote.api.Targets;
import org.slabnote.api.VelocityEstimate;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Angle;
import org.slabnote.api.quantity.Length;
import org.slabnote.api.quantity.Measured;
import org.slabnote.methods.fit.RobustFigures;

/**
 * Links events of several passes to targets: lines, points where there is one pass only, planes.
 *
 * <p>Events of one pass and place, across and along, are one sighting. Lines through sightings are
 * proposed by every pair of them and the best is taken first (see the plugin's LineSearch): straight
 * in plan within a third of {@code gate}, depth constant, sloping or parabolic along the line. Passes
 * in any direction may see one line. Three passes in a row: probable; two: possible. A line that chance
 * would make of the sightings that are left (more than 0.05 expected in the survey) counts only if it
 * stands out, as possible; a pass between that shows nothing takes one that does away. Echoes far
 * weaker than the survey's strongest (see Faint) make no target; they stay in the ledger. A sighting alone is a target only where the survey is a single pass. Lines and points that time, amplitude and phase
 * show to be a multiple of what lies above are no targets; where these do not agree, the target stays,
 * not resolved, with the arithmetic beside it.
 *
 * <p>Depth: at the middle of the line, to the top, from across events where there are such. Budget:
 * picks average over the passes; velocity, time zero and the envelope's delay do not. Across: tie of
 * the grid 5 mm, distance wheel 0.3 % of the way, scatter about the line; all standard uncertainties,
 * common practice, no source. Diameter: as assumed, rectangular 5 to 25 mm.
 *
 * <p>Source: exhaustive form of random sample consensus (Fischler and Bolles 1981, Communications of
 * the ACM 24); rules of linking, common practice, no source. Check: LinkingTest (invented slabs).
 *
 * @param across events of the across scans
 * @param along events of the along scans; may be none
 * @param planes plane events; may be none
 * @param velocity velocity of the slab
 * @param gate half the pitch of the bars; also the scale of how straight a line must be
 * @param diameter assumed outside diameter
 * @since 0.1
 */
@Op(id = "targets.link-events", revision = 1, purpose = Purpose.TARGETS)
public record LinkEvents(
    Steps<Events> across,
    Steps<Events> along,
    Steps<Events> planes,
    Step<VelocityEstimate> velocity,

    @Param(meaning = "half the pitch of the bars", from = "10 mm", to = "500 mm", doubt = "30 %")
    Length gate,

    @Param(
        meaning = "assumed outside diameter of the targets",
        from = "1 mm",
        to = "200 mm",
        doubt = "50 %")
    Length diameter)
    implements Operation<Targets> {

  private static final double GRID_U = 0.005;
  private static final double WHEEL_SHARE_U = 0.003;

  /** Standard deviation of a rectangle from 5 to 25 mm. */
  private static final double DIAMETER_U = 0.0058;

  /** Chance lines that may be expected in a survey. */
  private static final double MOST_CHANCE = 0.05;

  /** Against these odds a line is a target only if it stands out (common practice, no source). */
  private static final double PLAIN_LEVEL_DB = 12;

  private static final double PLAIN_SEMBLANCE = 0.65;

  /** Least semblance of a point that no other pass can confirm. */
  private static final double PLAIN_POINT = 0.6;

  @Override
  public Targets apply(Work work) {
    SortedMap<String, List<Event>> acrossByPass = byPass(across);
    SortedMap<String, List<Event>> alongByPass = byPass(along);
    TreeSet<String> names = new TreeSet<>(acrossByPass.keySet());
    names.addAll(alongByPass.keySet());
    List<PassLine> passes = new ArrayList<>();
    List<Sighting> sightings = new ArrayList<>();
    for (String name : names) {
      work.checkCancelled();
      List<Event> a = acrossByPass.getOrDefault(name, List.of());
      List<Event> b = alongByPass.getOrDefault(name, List.of());
      List<Event> both = new ArrayList<>(a);
      both.addAll(b);
      sightings.addAll(Sighting.join(passes.size(), deepEnough(a), deepEnough(b)));
      passes.add(PassLine.of(name, both));
    }
    List<Event> planeEvents = new ArrayList<>();
    for (Step<Events> step : planes.list()) {
      planeEvents.addAll(step.get().list());
    }
    List<Target> flat = PlaneTargets.of(planeEvents, planes.list().size(), work);
    double base =
        flat.isEmpty() ? Double.NaN : flat.get(flat.size() - 1).depth().value().value();
    List<Event> all = new ArrayList<>();
    acrossByPass.values().forEach(all::addAll);
    alongByPass.values().forEach(all::addAll);
    double v = velocity.get().velocity().value().value();
    work.checkCancelled();
    Judge judge = new Judge(
        sightings, base, level(flat, planeEvents), PulseSides.of(all), Faint.of(all, v), v);
    List<Target> found = Math.max(across.names().size(), along.names().size()) < 2
        ? points(sightings, judge, work)
        : lines(passes, sightings, judge, work);
    found.sort(order());
    found.addAll(flat);
    List<Target> named = new ArrayList<>();
    for (Target t : found) {
      named.add(named(t, named.size() + 1));
    }
    work.progress(1);
    return new Targets(named);
  }

  private record Judge(
      List<Sighting> all,
      double base,
      double baseAmplitude,
      PulseSides sides,
      Faint faint,
      double velocity) {
    Objection of(List<Sighting> members) {
      return Objection.of(members, all, base, baseAmplitude, sides, faint, velocity);
    }
  }

  /** Median amplitude of the deepest plane's events; 0 where there is none. */
  private static double level(List<Target> planes, List<Event> events) {
    if (planes.isEmpty()) {
      return 0;
    }
    List<String> evidence = planes.get(planes.size() - 1).evidence();
    double[] levels = events.stream()
        .filter(e -> evidence.contains(e.name()))
        .mapToDouble(Event::amplitude)
        .toArray();
    return RobustFigures.median(levels);
  }

  private static SortedMap<String, List<Event>> byPass(Steps<Events> steps) {
    SortedMap<String, List<Event>> map = new TreeMap<>();
    for (Step<Events> step : steps.list()) {
      for (Event e : step.get().list()) {
        map.computeIfAbsent(e.pass(), p -> new ArrayList<>()).add(e);
      }
    }
    return map;
  }

  /** Events that have a depth: above their own uncertainty. */
  private static List<Event> deepEnough(List<Event> events) {
    return events.stream()
        .filter(e -> e.depth().value().compareTo(e.depth().u95()) > 0)
        .toList();
  }

  private List<Target> points(List<Sighting> sightings, Judge judge, Work work) {
    List<Target> list = new ArrayList<>();
    for (Sighting s : sightings) {
      Objection objection = judge.of(List.of(s));
      if (objection.isTarget() && s.best().semblance() >= PLAIN_POINT) {
        Point place = s.best().place();
        list.add(target(
            place,
            Optional.empty(),
            List.of(s),
            s.depth(),
            List.of(s.depth(), s.depth()),
            0,
            s.best().distance().u().value(),
            Target.Status.POSSIBLE,
            objection,
            work));
      }
    }
    return list;
  }

  private List<Target> lines(
      List<PassLine> passes, List<Sighting> sightings, Judge judge, Work work) {
    LineSearch search = new LineSearch(passes, sightings, gate.value());
    List<TargetLine> found = search.find(work);
    List<Sighting> unrelated = new ArrayList<>(search.left());
    for (TargetLine line : found) {
      if (line.members().size() < 3 || !plain(line)) {
        unrelated.addAll(line.members());
      }
    }
    Chance chance = Chance.of(passes, unrelated, search.tolerance());
    List<Target> list = new ArrayList<>();
    for (TargetLine line : found) {
      LineSearch.Run passed = search.run(line);
      int run = passed.longest();
      int seen = Math.max(2, line.members().size() - passed.missing());
      boolean unlikely = chance.lines(line, seen) <= MOST_CHANCE;
      if (run < 2 || !(unlikely || plain(line))) {
        continue;
      }
      Objection objection = judge.of(line.members());
      if (objection.isTarget()) {
        boolean firm = run >= 3 && unlikely;
        list.add(lineTarget(
            line, firm ? Target.Status.PROBABLE : Target.Status.POSSIBLE, objection, work));
      }
    }
    return list;
  }

  private static boolean plain(TargetLine line) {
    return LineSearch.level(line) >= PLAIN_LEVEL_DB
        && LineSearch.semblance(line) >= PLAIN_SEMBLANCE;
  }

  private Target lineTarget(TargetLine line, Target.Status status, Objection objection, Work work) {
    Point start = at(line, line.from());
    Point end = at(line, line.to());
    int n = line.members().size();
    double fitU = line.depthResidual() * Math.sqrt(line.depth().length / (double) Math.max(1, n));
    List<Double> ends = List.of(line.depthAt(line.from()), line.depthAt(line.to()));
    return target(
        start,
        Optional.of(end),
        line.members(),
        line.depthAt(line.middle()),
        ends,
        fitU,
        line.planResidual(),
        status,
        objection,
        work);
  }

  private static Point at(TargetLine line, double along) {
    return Point.of(line.x() + along * line.ux(), line.y() + along * line.uy());
  }

  private Target target(
      Point start,
      Optional<Point> end,
      List<Sighting> members,
      double depth,
      List<Double> ends,
      double fitU,
      double scatter,
      Target.Status status,
      Objection objection,
      Work work) {
    List<Event> bests = members.stream().map(Sighting::best).toList();
    double way =
        bests.stream().mapToDouble(e -> e.distance().value().value()).average().orElse(0);
    Measured<Length> place = Measured.about(new Length(0))
        .from(work.source("grid tie"), GRID_U)
        .from(work.source("distance wheel"), WHEEL_SHARE_U * way)
        .from(work.source("linking"), Math.max(scatter, 5e-4))
        .build();
    Optional<Angle> strike = end.map(e -> new Angle(StrictMath.atan2(
                e.y().value() - start.y().value(), e.x().value() - start.x().value())
            * 180
            / StrictMath.PI)
        .modulo180());
    List<String> evidence = new ArrayList<>();
    for (Sighting s : members) {
      s.events().forEach(e -> evidence.add(e.name()));
    }
    return new Target(
        "line",
        start,
        end,
        MeanDepth.of(depth, bests, fitU, work),
        ends.stream().map(Length::new).toList(),
        place,
        Target.Reference.TOP,
        Measured.of(diameter, work.source("assumed diameter"), new Length(DIAMETER_U)),
        strike,
        Optional.empty(),
        new TreeMap<>(),
        objection.isDoubt() ? Target.Status.NOT_RESOLVED : status,
        objection.words(),
        evidence);
  }

  /** Lines by strike (nearest 90 degrees), then from left to right and down, then by depth. */
  private static Comparator<Target> order() {
    return Comparator.<Target>comparingInt(LinkEvents::direction)
        .thenComparingLong(t -> StrictMath.round(20
            * (direction(t) == 0
                ? t.start().x().value() + middle(t, true)
                : t.start().y().value() + middle(t, false))))
        .thenComparing(t -> t.depth().value())
        .thenComparing(t -> t.start().x())
        .thenComparing(t -> t.start().y());
  }

  private static double middle(Target t, boolean alongX) {
    return t.end().map(e -> alongX ? e.x().value() : e.y().value()).orElse(0.0);
  }

  private static int direction(Target t) {
    double deg = t.strike().map(Angle::value).orElse(90.0);
    return deg > 45 && deg < 135 ? 0 : 1;
  }

  private static Target named(Target t, int number) {
    return new Target(
        "T" + (number < 10 ? "0" : "") + number,
        t.start(),
        t.end(),
        t.depth(),
        t.endDepths(),
        t.across(),
        t.reference(),
        t.diameter(),
        t.strike(),
        t.pairRatio(),
        t.classes(),
        t.status(),
        t.alternatives(),
        t.evidence());
  }
}
