package org.slabnote.velocity;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Param;
import org.slabnote.api.Purpose;
import org.slabnote.api.Scan;
import org.slabnote.api.Step;
import org.slabnote.api.VelocityEstimate;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Length;
import org.slabnote.api.quantity.Measured;
import org.slabnote.api.quantity.Quantities;
import org.slabnote.api.quantity.Units;
import org.slabnote.api.quantity.Velocity;

/**
 * Finds the clean diffractions of a pass and fits the velocity to each.
 *
 * <p>Apexes are sought by phase coherence along diffraction curves for permittivity 3 to 16. From
 * each the ridge of the envelope is followed outward (the phase turns along the arms, so that a
 * lobe would mislead), up to half the aperture on either side, as far as it stands above clutter;
 * {@code t = L(x - x0, h, a, s) / v} is fitted to it, L the exact path over a cylinder that the
 * pass crosses squarely, time from {@code scan.surface()}. A wrong pick is weighted down (Tukey).
 *
 * <p>A fit is left out if it has fewer than 12 picks, reaches less than a third of its cover or
 * 25 mm on one side, two thirds or 40 mm on the other, hardly clears the clutter, scatters by more than 0.07 of a period, leaves more than a third of its
 * span unpicked, ends on a bound or outside permittivity 3 to 16, or has a relative standard
 * uncertainty of the velocity above 12 %. No fit at all is an empty list, not an error.
 *
 * <p>Uncertainty by source: fit, wavelet, diameter, and the surface time with its sign. A target
 * that the pass crosses at the angle b gives {@code eps sin^2 b}: a single fit cannot tell.
 *
 * <p>Holds for one velocity from the surface to the target. Source: Fermat's principle; Tukey's
 * biweight, Beaton and Tukey 1974, Technometrics 16, 147-185. Check: a full-wave solver's scan;
 * scans by the cylinder series.
 *
 * @param scan scan with its surface time; background removed, band-passed
 * @param diameter outside diameter that the targets are taken to have
 * @param aperture width of the pass about an apex that is used
 * @since 0.1
 */
@Op(id = "velocity.fit-diffractions", revision = 1, purpose = Purpose.VELOCITY)
public record FitDiffractions(
    Step<Scan> scan,

    @Param(
        meaning = "assumed outside diameter of the targets",
        from = "0 mm",
        to = "500 mm",
        doubt = "50 %")
    Length diameter,

    @Param(
        meaning = "width about the apex that is used; wide arms tell the velocity, 0.4 m is usual",
        from = "40 mm",
        to = "2 m",
        doubt = "25 %")
    Length aperture)
    implements Operation<List<VelocityEstimate>> {

  private static final int LEAST_PICKS = 12;
  /** Envelope over clutter; peaks of noise alone, chosen within the gate, reach 2.7. */
  private static final double LEAST_CLEAR = 3.5;

  private static final double MOST_SCATTER = 0.07;
  private static final double LEAST_FILLED = 0.66;
  private static final double MOST_RELATIVE = 0.12;

  /** An aperture of 0.4 m. */
  public FitDiffractions(Step<Scan> scan, Length diameter) {
    this(scan, diameter, Quantities.mm(400));
  }

  @Override
  public List<VelocityEstimate> apply(Work work) {
    Scan input = scan.get();
    input.requireSurface();
    EnvelopeSection section = EnvelopeSection.of(input, work);
    double radius = diameter.value() / 2;
    double separation = input.antenna().separation().value();
    List<ApexSearch.Apex> apexes = ApexSearch.in(section, radius, separation, work);
    List<Found> found = new ArrayList<>();
    for (ApexSearch.Apex apex : apexes) {
      work.checkCancelled();
      Diffraction.follow(section, apex, radius, separation, aperture.value() / 2)
          .flatMap(d -> accepted(d, section, input, found.size() + 1, work))
          .ifPresent(found::add);
    }
    work.progress(1);
    return distinct(found, section.period).stream()
        .sorted(Comparator.comparingDouble((Found f) -> f.diffraction().fit.apex()))
        .map(f -> estimate(f, input))
        .toList();
  }

  private record Found(Diffraction diffraction, Measured<Velocity> velocity) {}

  private Optional<Found> accepted(
      Diffraction d, EnvelopeSection section, Scan input, int number, Work work) {
    CurveFit fit = d.fit;
    double longer = Math.max(0.04, fit.cover() * 2 / 3);
    double shorter = Math.max(0.025, fit.cover() / 3);
    double eps = new Velocity(fit.velocity()).permittivity();
    double filled = d.used() * section.step / (d.left + d.right + section.step);
    if (fit.saturated()
        || d.clear < LEAST_CLEAR
        || d.used() < LEAST_PICKS
        || Math.max(d.left, d.right) < longer
        || Math.min(d.left, d.right) < shorter
        || fit.scatter() > MOST_SCATTER * section.period
        || filled < LEAST_FILLED
        || eps < 3
        || eps > 16) {
      return Optional.empty();
    }
    Measured<Velocity> velocity =
        FitBudget.of(fit, d.x, d.u, section.period, diameter.value(), input, "fit " + number, work);
    return velocity.u().value() > MOST_RELATIVE * fit.velocity()
        ? Optional.empty()
        : Optional.of(new Found(d, velocity));
  }

  /** Of two fits to one diffraction (neighbouring lobes of one echo), the one tried first. */
  private static List<Found> distinct(List<Found> all, double period) {
    List<Found> kept = new ArrayList<>();
    for (Found f : all) {
      CurveFit a = f.diffraction().fit;
      boolean twice = false;
      for (Found k : kept) {
        CurveFit b = k.diffraction().fit;
        twice |= Math.abs(a.apex() - b.apex()) < 0.03
            && Math.abs(a.timeAt(a.apex()) - b.timeAt(b.apex())) < 2 * period;
      }
      if (!twice) {
        kept.add(f);
      }
    }
    return kept;
  }

  private static VelocityEstimate estimate(Found f, Scan input) {
    CurveFit fit = f.diffraction().fit;
    String evidence =
        "pass " + input.pass() + ", apex at " + Units.fixed(fit.apex(), 3) + " m, cover "
            + Units.fixed(fit.cover() * 1000, 1) + " mm, " + f.diffraction().used() + " picks from "
            + Units.fixed(f.diffraction().left * 1000, 0) + " mm before to "
            + Units.fixed(f.diffraction().right * 1000, 0) + " mm behind, residual "
            + Units.fixed(fit.scatter(), 4) + " ns";
    return new VelocityEstimate(f.velocity(), "diffraction fit", evidence, List.of());
  }
}
