package org.slabnote.targets;

import java.util.ArrayList;
import java.util.List;
import org.slabnote.api.Event;
import org.slabnote.api.EventState;
import org.slabnote.api.Events;
import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Purpose;
import org.slabnote.api.Scan;
import org.slabnote.api.Step;
import org.slabnote.api.Treatment;
import org.slabnote.api.VelocityEstimate;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Angle;
import org.slabnote.api.quantity.Decibel;
import org.slabnote.api.quantity.Length;
import org.slabnote.api.quantity.Measured;
import org.slabnote.api.quantity.TimeSpan;
import org.slabnote.methods.fit.RobustFigures;

/**
 * Finds flat reflectors of one scan: the base of the slab, layers.
 *
 * <p>The mean analytic trace of the pass and its coherence {@code |mean a|^2 / mean |a|^2} are taken at
 * each time. A plane is a peak of the mean envelope, later than the direct wave by a period and a half,
 * with a coherence of 0.3 or more, four times the level at which unlike traces would add up, and twice
 * the lower quartile of the mean envelope within three periods to each side (the direct wave's tail has
 * no peak of its own). Of peaks nearer than a period to one another the greatest counts.
 *
 * <p>For scans whose background is still there: what removes it removes planes. A bar along the pass is
 * flat too; neighbouring passes tell. The place of the event is the middle of the pass; a plane that
 * dips by a period over the pass is not found.
 *
 * <p>Source: coherence of a stack, Taner and Koehler 1969, Geophysics 34; limits, common practice, no
 * source. Check: LinkingTest.
 *
 * @param scan scan with a surface time, background not removed
 * @param velocity velocity of the slab
 * @since 0.1
 */
@Op(id = "targets.detect-planes", revision = 1, purpose = Purpose.TARGETS)
public record DetectPlanes(Step<Scan> scan, Step<VelocityEstimate> velocity)
    implements Operation<Events> {
  private static final double LEAST_COHERENCE = 0.3;
  private static final double LEAST_PROMINENCE = 2;

  @Override
  public Events apply(Work work) {
    Scan s = scan.get();
    VelocityEstimate v = velocity.get();
    refuse(s);
    EchoField field = EchoField.of(s, s.requireSurface().value().value(), work);
    Mean mean = Mean.of(field);
    double direct = s.antenna().separation().value() / 0.299792458;
    int from = (int) Math.max(1, field.sample(direct + 1.5 * field.period()));
    double least = s.antenna().separation().value() / v.velocity().value().value();
    from = (int) Math.max(from, Math.ceil(field.sample(least)));
    List<Event> events = new ArrayList<>();
    for (int j = from; j < field.samples - 1; j++) {
      work.checkCancelled();
      if (isPlane(field, mean, j, from)) {
        events.add(event(s, v, field, mean, j, events.size() + 1, work));
      }
    }
    work.progress(1);
    return new Events(events);
  }

  private static void refuse(Scan s) {
    for (Treatment t : s.history()) {
      if (t.operation().contains("background")) {
        throw new IllegalArgumentException(
            "targets.detect-planes: scan " + s.pass() + ", channel " + s.channel() + ": " + t
                + " was done to it, which takes planes out. Give the scan before that step");
      }
    }
  }

  /** Mean analytic trace: envelope, coherence, phase in radians. */
  private record Mean(double[] envelope, double[] coherence, double[] phase, double[] floor) {
    static Mean of(EchoField f) {
      int m = f.samples;
      Mean mean = new Mean(new double[m], new double[m], new double[m], new double[m]);
      for (int j = 0; j < m; j++) {
        double a = 0;
        double b = 0;
        double square = 0;
        for (int i = 0; i < f.traces; i++) {
          double re = f.re[i * f.samples + j];
          double im = f.im[i * f.samples + j];
          a += re;
          b += im;
          square += re * re + im * im;
        }
        mean.envelope[j] = Math.sqrt(a * a + b * b) / f.traces;
        mean.coherence[j] = square == 0 ? 0 : (a * a + b * b) / (f.traces * square);
        mean.phase[j] = StrictMath.atan2(b, a);
        double spread = Math.max(0, square / f.traces - mean.envelope[j] * mean.envelope[j]);
        mean.floor[j] = Math.sqrt(spread / f.traces);
      }
      return mean;
    }
  }

  private static boolean isPlane(EchoField field, Mean mean, int j, int from) {
    double e = mean.envelope[j];
    int period = (int) Math.max(1, Math.round(field.period() / field.interval));
    for (int k = Math.max(from, j - period); k <= Math.min(field.samples - 1, j + period); k++) {
      if (mean.envelope[k] > e || (k < j && mean.envelope[k] == e)) {
        return false;
      }
    }
    boolean top = e >= mean.envelope[j - 1] && e >= mean.envelope[j + 1];
    return top
        && e > 0
        && mean.coherence[j] >= LEAST_COHERENCE
        && e > 4 * mean.floor[j]
        && e > LEAST_PROMINENCE * around(mean, j, 3 * period);
  }

  private static double around(Mean mean, int j, int half) {
    int low = Math.max(0, j - half);
    int high = Math.min(mean.envelope.length - 1, j + half);
    double[] values = new double[high - low + 1];
    System.arraycopy(mean.envelope, low, values, 0, values.length);
    return RobustFigures.quantile(values, 0.25);
  }

  private static Event event(
      Scan s, VelocityEstimate v, EchoField field, Mean mean, int j, int number, Work work) {
    double before = mean.envelope[j - 1];
    double after = mean.envelope[j + 1];
    double bend = before - 2 * mean.envelope[j] + after;
    double at = field.time(bend == 0 ? j : j + 0.5 * (before - after) / bend);
    double noise = mean.floor[j] / mean.envelope[j] / (2 * StrictMath.PI * field.frequency);
    Measured<TimeSpan> time =
        DepthBudget.time(s, at, Math.max(noise, field.period() / 200), number, work);
    double middle = field.length() / 2;
    return new Event(
        DetectDiffractions.name(s, number)
            .replace(":" + s.channel() + ":", ":" + s.channel() + ":P"),
        s.pass(),
        s.channel(),
        Event.Shape.PLANE,
        s.track().along(new Length(middle)),
        Measured.exact(new Length(middle)),
        time,
        DepthBudget.depth(s, v, time, field.period(), true, work),
        mean.envelope[j],
        Decibel.ofAmplitude(mean.envelope[j] / Math.max(mean.floor[j], 1e-6 * mean.envelope[j])),
        mean.coherence[j],
        new Angle(mean.phase[j] * 180 / StrictMath.PI),
        EventState.OPEN,
        "");
  }
}
