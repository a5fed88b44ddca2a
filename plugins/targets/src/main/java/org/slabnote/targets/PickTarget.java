package org.slabnote.targets;

import java.util.ArrayList;
import java.util.List;
import org.slabnote.api.Event;
import org.slabnote.api.EventState;
import org.slabnote.api.Events;
import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Param;
import org.slabnote.api.Pick;
import org.slabnote.api.Picks;
import org.slabnote.api.Purpose;
import org.slabnote.api.Scan;
import org.slabnote.api.Step;
import org.slabnote.api.VelocityEstimate;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Angle;
import org.slabnote.api.quantity.Decibel;
import org.slabnote.api.quantity.Length;
import org.slabnote.api.quantity.Measured;
import org.slabnote.api.quantity.TimeSpan;
import org.slabnote.methods.fit.RobustFigures;

/**
 * Makes an event of each pick by hand on one pass: the envelope's peak at the apex of an echo.
 *
 * <p>The pick stands as it was set; nothing is moved. Depth: exact inversion of the time from the
 * surface with the antennas' separation. Uncertainties of a pick: a trace step in place, a twentieth of
 * the data's mean period in time (common practice, no source). Level, phase and semblance are read
 * from the data at the pick, the semblance along the curve of a square crossing.
 *
 * <p>A pick off the scan (place or time) is refused, with its place. Picks of other passes are left
 * out.
 *
 * @param scan scan with a surface time
 * @param picks picks of apexes, one event each, times on the scan's own axis
 * @param velocity velocity of the slab
 * @param diameter assumed outside diameter, for the curve
 * @since 0.1
 */
@Op(id = "targets.pick-target", revision = 1, purpose = Purpose.TARGETS)
public record PickTarget(
    Step<Scan> scan,

    @Param(meaning = "picks of apexes on this pass, each at the envelope's peak")
    Picks picks,

    Step<VelocityEstimate> velocity,

    @Param(
        meaning = "assumed outside diameter of the targets",
        from = "1 mm",
        to = "200 mm",
        doubt = "50 %")
    Length diameter)
    implements Operation<Events> {
  private static final double PICK_PERIODS_U = 0.05;

  @Override
  public Events apply(Work work) {
    Scan s = scan.get();
    double surface = s.requireSurface().value().value();
    EchoField field = EchoField.of(s, surface, work);
    List<Event> events = new ArrayList<>();
    for (Pick pick : picks.on(s.pass()).list()) {
      work.checkCancelled();
      check(s, field, pick);
      events.add(event(s, field, pick, surface, events.size() + 1, work));
    }
    work.progress(1);
    return new Events(events);
  }

  private void check(Scan s, EchoField field, Pick pick) {
    double x = pick.distance().value();
    if (x < 0 || x > field.length()) {
      throw bad(
          s, "distance = " + pick.distance() + "; expected 0 m to " + s.track().length());
    }
    double since = pick.time().minus(s.requireSurface().value()).value();
    double direct =
        s.antenna().separation().value() / velocity.get().velocity().value().value();
    if (since <= direct || since > field.end()) {
      throw bad(
          s,
          "time = " + pick.time() + "; expected after "
              + new TimeSpan(direct).plus(s.requireSurface().value())
              + " (the surface time and the straight way between the antennas) and within the scan");
    }
  }

  private IllegalArgumentException bad(Scan s, String what) {
    return new IllegalArgumentException("targets.pick-target: picks " + picks.name() + ", pass "
        + s.pass() + ": " + what + ". Set the pick on the scan's own axes");
  }

  private Event event(Scan s, EchoField f, Pick pick, double surface, int number, Work work) {
    double x = pick.distance().value();
    double v = velocity.get().velocity().value().value();
    double since = pick.time().value() - surface;
    Measured<TimeSpan> time = DepthBudget.time(s, since, PICK_PERIODS_U * f.period(), number, work);
    Measured<Length> depth = DepthBudget.depth(s, velocity.get(), time, f.period(), false, work);
    StackMap map =
        new StackMap(f, diameter.value() / 2, s.antenna().separation().value(), v);
    map.measureFloor(work);
    double cover = Math.max(0.003, map.cover(since));
    Curve curve =
        new Curve(x, cover, 1, diameter.value() / 2, s.antenna().separation().value(), v);
    double[] apex = Summed.apex(f, curve);
    double clutter = Math.max(1e-6 * apex[0], median(f, x, since));
    double step = Math.max(1e-4, f.spacing());
    return new Event(
        DetectDiffractions.name(s, number)
            .replace(":" + s.channel() + ":", ":" + s.channel() + ":H"),
        s.pass(),
        s.channel(),
        Event.Shape.DIFFRACTION,
        s.track().along(pick.distance()),
        Measured.of(pick.distance(), work.source("apex " + number), new Length(step)),
        time,
        depth,
        apex[0],
        Decibel.ofAmplitude(apex[0] == 0 ? 1 : apex[0] / clutter),
        Summed.of(f, map, curve).semblance(),
        new Angle(apex[1] * 180 / StrictMath.PI),
        EventState.OPEN,
        "");
  }

  private static double median(EchoField f, double x, double since) {
    int from = f.firstAt(x - 0.1);
    int to = f.firstAt(x + 0.1);
    int low = (int) Math.max(0, f.sample(since - 1.5 * f.period()));
    int high = (int) Math.min(f.samples - 1.0, f.sample(since + 1.5 * f.period()));
    double[] values = new double[Math.max(1, (to - from) * (high - low + 1))];
    int n = 0;
    for (int i = from; i < to; i++) {
      for (int j = low; j <= high; j++) {
        values[n++] = f.envelope(i, j);
      }
    }
    double median = RobustFigures.median(values) / Math.sqrt(StrictMath.log(2));
    return median == 0 ? Double.MIN_NORMAL : median;
  }
}
