package org.slabnote.velocity;

import java.util.Arrays;
import java.util.List;
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
import org.slabnote.api.quantity.Length;
import org.slabnote.api.quantity.Measured;
import org.slabnote.api.quantity.Units;
import org.slabnote.api.quantity.Velocity;
import org.slabnote.methods.fit.NoConvergenceException;

/**
 * Fits the velocity to picks along one diffraction.
 *
 * <p>{@code t = L(x - x0, h, a, s) / v}: velocity v, cover h and apex x0 fitted; L the exact path
 * from transmitter over a cylinder of radius a to the receiver, s apart, the pass crossing it
 * squarely; t = pick less the scan's surface time. Picks: peaks of the envelope, on both arms, as
 * wide as the ridge can be followed: within 0.1 m of the apex a permittivity of 6 reads 5.5.
 * Leaving s or a out reads 6.4 to 7.7 for a true 8.
 *
 * <p>Start: apex at the earliest pick, permittivity 7. A wrong pick is weighted down (Tukey).
 * Uncertainty by source: fit (covariance times reduced chi-square, at least the picking
 * resolution of 0.02 period), wavelet, diameter, surface time with its sign.
 *
 * <p>Errors: fewer than five picks on this pass; picks that do not determine the velocity.
 * Source: Fermat's principle. Check: exact times of the reference tables; the known bias of
 * simpler models.
 *
 * @param scan scan with its surface time; its samples are not used
 * @param picks picks; those of other passes are left aside
 * @param diameter outside diameter that the target is taken to have
 * @since 0.1
 */
@Op(id = "velocity.hyperbola-fit", revision = 1, purpose = Purpose.VELOCITY)
public record HyperbolaFit(
    Step<Scan> scan,

    @Param(meaning = "peaks of the envelope along one diffraction, on both arms")
    Picks picks,

    @Param(
        meaning = "assumed outside diameter of the target",
        from = "0 mm",
        to = "500 mm",
        doubt = "50 %")
    Length diameter)
    implements Operation<VelocityEstimate> {

  private static final int LEAST_PICKS = 5;

  @Override
  public VelocityEstimate apply(Work work) {
    Scan input = scan.get();
    List<Pick> own = picks.on(input.pass()).list();
    String where = "velocity.hyperbola-fit: picks " + picks.name() + " on pass " + input.pass();
    if (own.size() < LEAST_PICKS) {
      throw new IllegalArgumentException(where + ": " + own.size() + " picks; expected "
          + LEAST_PICKS + " or more, on both arms of one diffraction. Pick more of the ridge");
    }
    double surface = input.requireSurface().value().value();
    double period = input.antenna().centre().period().value();
    double separation = input.antenna().separation().value();
    double[][] sorted = own.stream()
        .map(p -> new double[] {p.distance().value(), p.time().value() - surface})
        .sorted((a, b) -> Double.compare(a[0], b[0]))
        .toArray(double[][]::new);
    double[] x = Arrays.stream(sorted).mapToDouble(p -> p[0]).toArray();
    double[] t = Arrays.stream(sorted).mapToDouble(p -> p[1]).toArray();
    double[] u = new double[x.length];
    Arrays.fill(u, 0.02 * period);
    double[] start = start(x, t, separation, where);
    CurveFit fit;
    try {
      fit = CurveFit.of(x, t, u, diameter.value() / 2, separation, start);
    } catch (NoConvergenceException e) {
      throw new IllegalArgumentException(
          where + ": they do not determine a velocity. Pick both arms, farther out", e);
    }
    if (fit.saturated()) {
      throw new IllegalArgumentException(
          where + ": the fit runs to its limit at velocity " + Units.plain(fit.velocity(), 4)
              + " m/ns, cover " + Units.plain(fit.cover() * 1000, 4)
              + " mm; these are not the times of one diffraction. Check picks and surface time");
    }
    work.progress(1);
    Measured<Velocity> velocity =
        FitBudget.of(fit, x, u, period, diameter.value(), input, "fit", work);
    return new VelocityEstimate(
        velocity, "hyperbola fit", evidence(fit, x.length, input), List.of());
  }

  private static double[] start(double[] x, double[] t, double separation, String where) {
    int apex = 0;
    for (int i = 1; i < t.length; i++) {
      apex = t[i] < t[apex] ? i : apex;
    }
    if (t[apex] <= 0) {
      throw new IllegalArgumentException(
          where + ": the pick at " + Units.plain(x[apex], 4) + " m lies " + Units.plain(-t[apex], 3)
              + " ns before the surface time; expected echoes after it");
    }
    double v = Velocity.ofPermittivity(7).value();
    double square = v * t[apex] * v * t[apex] - separation * separation;
    return new double[] {v, Math.sqrt(Math.max(square, 4e-4)) / 2, x[apex]};
  }

  private String evidence(CurveFit fit, int count, Scan input) {
    return "picks " + picks.name() + " on pass " + input.pass() + ", apex at "
        + Units.fixed(fit.apex(), 3) + " m, cover " + Units.fixed(fit.cover() * 1000, 1) + " mm, "
        + count + " picks, residual " + Units.fixed(fit.scatter(), 4) + " ns";
  }
}
