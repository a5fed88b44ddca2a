package org.slabnote.velocity;

import org.slabnote.api.Scan;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Measured;
import org.slabnote.api.quantity.Velocity;

/**
 * Uncertainty of a fitted velocity, by source.
 *
 * <ul>
 *   <li>{@code fit}, or {@code fit 1, fit 2 ...} of one pass: covariance times reduced chi-square (at least 1), neighbouring residuals
 *       correlated as the residuals themselves show.
 *   <li>{@code wavelet}: the envelope's peak drifts along the arms (scattering and antenna phase,
 *       refraction near the critical angle); {@value #DRIFT} of a period from apex to the arms'
 *       ends, with the square of the distance.
 *   <li>{@code diameter}: the stated diameter is assumed; standard uncertainty {@value
 *       #DIAMETER_DOUBT} of it.
 *   <li>the sources of the scan's surface time, with their sign.
 * </ul>
 */
final class FitBudget {
  /** Share of a period; found on the full-wave and cylinder-series scans of the tests. */
  static final double DRIFT = 0.05;

  /** Rectangular 5 mm to 25 mm, what slabs mostly hold, has 5.8 mm: half of the usual 12 mm. */
  static final double DIAMETER_DOUBT = 0.5;

  private FitBudget() {}

  static Measured<Velocity> of(
      CurveFit fit,
      double[] x,
      double[] u,
      double period,
      double diameter,
      Scan scan,
      String label,
      Work work) {
    CurveFit.Response response = fit.response();
    double reach = 1e-6;
    for (double place : x) {
      reach = Math.max(reach, Math.abs(place - fit.apex()));
    }
    double[] one = new double[x.length];
    double[] drift = new double[x.length];
    for (int i = 0; i < x.length; i++) {
      double share = (x[i] - fit.apex()) / reach;
      one[i] = 1;
      drift[i] = DRIFT * period * share * share;
    }
    return Measured.about(new Velocity(fit.velocity()))
        .from(work.source(label), random(fit, response.perTime()[0], x, u))
        .from(work.source("wavelet"), response.to(0, drift))
        .from(work.source("diameter"), response.perRadius()[0] * DIAMETER_DOUBT * diameter / 2)
        // times from the surface fall where the surface time rises
        .from(scan.requireSurface(), -response.to(0, one))
        .build();
  }

  /** Standard uncertainty from scatter whose neighbours are correlated: {@code rho^|i - j|}. */
  private static double random(CurveFit fit, double[] gain, double[] x, double[] u) {
    double chi = 0;
    double product = 0;
    double square = 0;
    int used = 0;
    for (int i = 0; i < x.length; i++) {
      if (!fit.counts(i)) {
        continue;
      }
      double z = fit.residual(i) / u[i];
      chi += z * z;
      used++;
      if (i > 0 && fit.counts(i - 1)) {
        product += z * fit.residual(i - 1) / u[i - 1];
        square += (z * z + fit.residual(i - 1) * fit.residual(i - 1) / (u[i - 1] * u[i - 1])) / 2;
      }
    }
    double widened = Math.max(1, chi / Math.max(1, used - 3));
    double rho = square > 0 ? Math.max(0, Math.min(0.95, product / square)) : 0;
    double[] power = new double[x.length];
    power[0] = 1;
    for (int i = 1; i < power.length; i++) {
      power[i] = power[i - 1] * rho;
    }
    double sum = 0;
    for (int i = 0; i < x.length; i++) {
      for (int j = 0; j < x.length; j++) {
        sum += gain[i] * u[i] * gain[j] * u[j] * power[Math.abs(i - j)];
      }
    }
    return Math.sqrt(Math.max(0, sum) * widened);
  }
}
