package org.slabnote.targets;

import static org.slabnote.api.quantity.Quantities.ratio;

import java.util.ArrayList;
import java.util.List;
import org.slabnote.api.Event;
import org.slabnote.api.EventState;
import org.slabnote.api.Events;
import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Param;
import org.slabnote.api.Purpose;
import org.slabnote.api.Scan;
import org.slabnote.api.Step;
import org.slabnote.api.VelocityEstimate;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Angle;
import org.slabnote.api.quantity.Decibel;
import org.slabnote.api.quantity.Length;
import org.slabnote.api.quantity.Measured;
import org.slabnote.api.quantity.Ratio;
import org.slabnote.api.quantity.TimeSpan;

/**
 * Finds the diffractions of one scan: bars, tendons, pipes and all else that gives a hyperbola.
 *
 * <p>The analytic signal, each trace divided by the clutter of its time, is summed along diffraction
 * curves over apex place, depth and flattening sin b (0.45 to 1, and up to 1.18 for a velocity assumed
 * too high); b is the crossing angle, so bars crossed obliquely are found too. A sum counts above
 * {@code ln(cells / false alarms)} in units of its mean for noise (noise sums are exponential), with a
 * semblance of 0.3 or more, with both arms, and clearly more than along the flat line through its apex
 * (layers, bars parallel to the travel, ringing). Strongest first; each echo is lifted out of the data
 * along its curve before the next is looked for, so that arms that cross and pulse tails are no events
 * of their own. Last, each is fitted exactly on the envelope's peaks with all others taken out.
 *
 * <p>It says nothing of what an event is: a multiple of the surface and a bar is an event here, and is
 * told in the ledger.
 *
 * <p>Best on a scan freed of background, drift and out-of-band noise. Depth: exact inversion of the
 * apex time with the antennas' separation; its budget carries velocity, surface time, pick and the
 * delay of the envelope, which the exact series bounds. The diameter shapes the curve only, not the
 * depth.
 *
 * <p>Source: semblance along diffraction curves, Taner and Koehler 1969, Geophysics 34; budget, JCGM
 * 100:2008. Limits (0.3, apertures): common practice, no source. Check: FullWaveReferenceTest.
 *
 * @param scan scan with a surface time
 * @param velocity velocity of the slab
 * @param diameter assumed outside diameter of the targets
 * @param falseAlarms events expected in one scan from noise alone
 * @since 0.1
 */
@Op(id = "targets.detect-diffractions", revision = 1, purpose = Purpose.TARGETS)
public record DetectDiffractions(
    Step<Scan> scan,
    Step<VelocityEstimate> velocity,

    @Param(
        meaning = "assumed outside diameter of the targets; it shapes the curve, not the depth",
        from = "1 mm",
        to = "200 mm",
        doubt = "50 %")
    Length diameter,

    @Param(
        meaning = "events that noise alone may give in one scan, on average",
        from = "0.000001",
        to = "10",
        doubt = "100 %")
    Ratio falseAlarms)
    implements Operation<Events> {

  /** Takes one false event in a hundred scans. */
  public DetectDiffractions(Step<Scan> scan, Step<VelocityEstimate> velocity, Length diameter) {
    this(scan, velocity, diameter, ratio(0.01));
  }

  @Override
  public Events apply(Work work) {
    Scan s = scan.get();
    VelocityEstimate v = velocity.get();
    double surface = s.requireSurface().value().value();
    EchoField field = EchoField.of(s, surface, work);
    List<Diffractions.Found> found = Diffractions.in(
        field,
        diameter.value() / 2,
        s.antenna().separation().value(),
        v.velocity().value().value(),
        falseAlarms.value(),
        work);
    List<Event> events = new ArrayList<>();
    for (Diffractions.Found f : found) {
      events.add(event(s, v, f, field.period(), events.size() + 1, work));
    }
    return new Events(events);
  }

  private static Event event(
      Scan s, VelocityEstimate v, Diffractions.Found f, double period, int number, Work work) {
    String name = name(s, number);
    Curve c = f.fit().curve();
    Measured<TimeSpan> time =
        DepthBudget.time(s, c.apexTime(), Math.max(f.fit().timeU(), period / 200), number, work);
    Measured<Length> distance = Measured.of(
        new Length(c.apex()),
        work.source("apex " + number),
        new Length(Math.max(1e-4, f.fit().placeU())));
    return new Event(
        name,
        s.pass(),
        s.channel(),
        Event.Shape.DIFFRACTION,
        s.track().along(distance.value()),
        distance,
        time,
        DepthBudget.depth(s, v, time, period, false, work),
        f.amplitude(),
        Decibel.ofAmplitude(f.amplitude() / f.clutter()),
        f.semblance(),
        new Angle(f.phase() * 180 / StrictMath.PI),
        EventState.OPEN,
        "");
  }

  /** Pass, channel and ordinal. */
  static String name(Scan s, int number) {
    return s.pass() + ":" + s.channel() + ":" + (number < 10 ? "0" : "") + number;
  }
}
