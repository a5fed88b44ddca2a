package org.slabnote.targets;

import java.util.ArrayList;
import java.util.List;
import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Point;
import org.slabnote.api.Purpose;
import org.slabnote.api.Scan;
import org.slabnote.api.Step;
import org.slabnote.api.Steps;
import org.slabnote.api.Targets;
import org.slabnote.api.VelocityEstimate;
import org.slabnote.api.Visibility;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Length;
import org.slabnote.api.quantity.Units;

/**
 * How far down each scan could have seen a metal bar, and where nobody could.
 *
 * <p>Reference: the echoes of the findings of this scan (the stronger half), or of all scans where it
 * has too few. Their envelope is taken to fall with depth as {@code (z_ref / z)^1.5 exp(-2 a (z -
 * z_ref))}: spreading of a line target, and a loss a found from the findings' own levels where they
 * span 60 mm of depth or more, else 10 dB/m one way (common practice for dry indoor concrete, no
 * source), never negative. The bar stands out down to the depth where it comes to twice the
 * clutter there (lower quartile of the envelope at the depth, as noise has it: arms of bars
 * fill more; of a depth and those within one and a half wavelengths the quieter).
 * Reach: the deepest depth down to which it does so without a break of more than 15 mm (breaks within the
 * first wavelength, in the direct wave, are not counted and told in words), at most the end of the scan, and at most 0.35 m, beyond which practice in
 * reinforced concrete does not go (Kind 2014, BAM). Below a plane that was found (the base) nothing is
 * claimed.
 *
 * <p>Smallest bar at that reach: a thin bar's echo falls about as its diameter below a fifth of a
 * wavelength (cylinder series, field along the bar, within a factor of 2), and the findings' diameter
 * is assumed; so {@code D = D_assumed} times the level that is needed over the level that is there, at
 * least 6 mm and never below a tenth of a wavelength. Half-width: radius of the first Fresnel zone at
 * the reach, {@code sqrt(lambda z / 2 + lambda^2 / 16)}, but no more than 50 mm to a side: beyond, a
 * line along the pass would not have been crossed.
 *
 * <p>Unseen: below the reach of each pass, beyond the outermost passes, in strips between passes wider
 * apart than both half-widths, and under lines closer to one another than half their depth. Metal bars
 * are meant: plastic is weaker, by up to 7 dB for an empty pipe of 27 mm.
 *
 * @param scans scans that events were looked for on
 * @param targets findings
 * @param velocity velocity of the slab
 * @since 0.1
 */
@Op(id = "targets.sight", revision = 1, purpose = Purpose.TARGETS)
public record Sight(Steps<Scan> scans, Step<Targets> targets, Step<VelocityEstimate> velocity)
    implements Operation<Visibility> {
  private static final double MOST_HALF_WIDTH = 0.05;

  @Override
  public Visibility apply(Work work) {
    List<Step<Scan>> list = scans.list();
    double v = velocity.get().velocity().value().value();
    Reach[] reaches = new Reach[list.size()];
    List<Scan> all = new ArrayList<>();
    for (Step<Scan> step : list) {
      all.add(step.get());
    }
    work.forEach(
        reaches.length, i -> reaches[i] = Reach.of(all.get(i), targets.get().list(), v, work));
    Levels shared = Levels.joined(reaches);
    double base = EventLedger.base(targets.get().list());
    List<Visibility.Sight> sights = new ArrayList<>();
    List<Visibility.Unseen> unseen = new ArrayList<>();
    for (int i = 0; i < reaches.length; i++) {
      work.checkCancelled();
      Visibility.Sight sight = sight(all.get(i), reaches[i], shared, base, v);
      sights.add(sight);
      unseen.add(below(sight));
    }
    unseen.addAll(Gaps.of(sights));
    unseen.addAll(Gaps.under(targets.get().list()));
    return new Visibility(sights, unseen);
  }

  private static Visibility.Sight sight(Scan s, Reach reach, Levels shared, double base, double v) {
    Levels levels = reach.levels().known() ? reach.levels() : shared;
    double wavelength = v / reach.frequency();
    double end = reach.deepest(levels, base, v);
    double spare = levels.known() ? reach.spare(levels, end) : 1;
    double smallest =
        Math.max(Math.max(0.006, wavelength / 10), levels.diameter() / Math.max(1, spare));
    double fresnel = fresnel(wavelength, end);
    String basis = (levels.known()
            ? (reach.levels().known() ? "echoes of findings on this scan" : "echoes of all scans")
                + ", loss " + Units.fixed(levels.loss() * 8.685889638, 1) + " dB/m one way"
                + (levels.fitted() ? " from their levels" : " assumed")
            : "no finding to measure by: nothing is claimed")
        + "; twice the clutter; metal bars, plastic is weaker"
        + (end >= base - Reach.STEP ? "; not below the plane" : "");
    return new Visibility.Sight(
        s.pass(),
        s.channel(),
        s.track().first(),
        s.track().last(),
        new Length(end),
        new Length(smallest),
        new Length(Math.min(MOST_HALF_WIDTH, fresnel)),
        basis);
  }

  /** Radius of the first Fresnel zone at a depth, m: the path is a half wavelength longer at its rim. */
  static double fresnel(double wavelength, double depth) {
    return Math.sqrt(wavelength * depth / 2 + wavelength * wavelength / 16);
  }

  private static Visibility.Unseen below(Visibility.Sight s) {
    double w = s.halfWidth().value();
    return new Visibility.Unseen(
        Point.of(
            Math.min(s.start().x().value(), s.end().x().value()) - w,
            Math.min(s.start().y().value(), s.end().y().value()) - w),
        Point.of(
            Math.max(s.start().x().value(), s.end().x().value()) + w,
            Math.max(s.start().y().value(), s.end().y().value()) + w),
        s.reach(),
        "pass " + s.pass() + ", channel " + s.channel() + ": too deep for the signal");
  }
}
