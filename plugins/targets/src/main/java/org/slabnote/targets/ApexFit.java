package org.slabnote.targets;

/**
 * Fits the exact path to the envelope's peaks along a diffraction, near its apex.
 *
 * <p>Unknowns: apex place, cover, flattening; the velocity is given. The flattening is free, so that
 * the apex time does not lean on the velocity nor on a square crossing. Peaks are sought within 0.4
 * periods of a first curve and set between samples by a parabola. Gauss-Newton with Tukey's weights
 * (constant 4.685 robust deviations), weights also by amplitude; ten rounds from the first curve; the
 * flattening is held between 0.4 and 1.3. Fewer than five peaks, or a fit that leaves the aperture:
 * no fit.
 *
 * @param curve fitted curve
 * @param placeU standard uncertainty of the apex place, m
 * @param timeU standard uncertainty of the apex time, ns
 * @param residual robust deviation of the peaks, ns
 * @param peaks number of peaks
 */
record ApexFit(Curve curve, double placeU, double timeU, double residual, int peaks) {
  private static final int ROUNDS = 10;
  private static final double TUKEY = 4.685;

  /** Peaks nearer to one another than this share of a wavelength tell the same. */
  private static final double INDEPENDENT_WAVELENGTHS = 0.25;

  /** Returns the fit, or null where there is none. */
  static @org.jspecify.annotations.Nullable ApexFit of(EchoField field, Curve first) {
    double reach =
        Math.max(0.05, Math.min(0.20, 0.8 * (first.cover() + 0.03) / first.flattening()));
    int from = field.firstAt(first.apex() - reach);
    int to = field.firstAt(first.apex() + reach);
    double[] x = new double[to - from];
    double[] t = new double[to - from];
    double[] w = new double[to - from];
    int n = 0;
    for (int i = from; i < to; i++) {
      double at = field.sample(first.time(field.distance[i]));
      double peak = peak(field, i, at, 0.4 * field.period() / field.interval);
      if (!Double.isNaN(peak)) {
        x[n] = field.distance[i];
        t[n] = field.time(peak);
        w[n] = field.envelope(i, (int) Math.round(peak));
        n++;
      }
    }
    return n < 5 ? null : solve(field, first, x, t, w, n, reach);
  }

  /** The envelope's greatest local peak within {@code half} samples, between samples; NaN for none. */
  static double peak(EchoField field, int trace, double at, double half) {
    int low = (int) Math.max(1, Math.ceil(at - half));
    int high = (int) Math.min(field.samples - 2.0, Math.floor(at + half));
    double best = 0;
    double where = Double.NaN;
    for (int j = low; j <= high; j++) {
      double e = field.envelope(trace, j);
      double before = field.envelope(trace, j - 1);
      double after = field.envelope(trace, j + 1);
      if (e > best && e >= before && e > after) {
        best = e;
        where = j + 0.5 * (before - after) / (before - 2 * e + after);
      }
    }
    return where;
  }

  private static @org.jspecify.annotations.Nullable ApexFit solve(
      EchoField field, Curve first, double[] x, double[] t, double[] w, int n, double reach) {
    double most = 0;
    for (int i = 0; i < n; i++) {
      most = Math.max(most, w[i]);
    }
    Curve c = first;
    double scale = 0.2 * field.period();
    double[][] normal = new double[3][4];
    double[] p = new double[3];
    double weights = 0;
    for (int round = 0; round < ROUNDS; round++) {
      double[] moduli = new double[n];
      normal = new double[3][4];
      weights = 0;
      for (int i = 0; i < n; i++) {
        double r = t[i] - c.time(x[i]);
        moduli[i] = Math.abs(r);
        double u = r / (TUKEY * scale);
        double tukey = Math.abs(u) >= 1 ? 0 : (1 - u * u) * (1 - u * u);
        double weight = tukey * w[i] / most;
        weights += weight;
        slopes(c, x[i], p);
        for (int a = 0; a < 3; a++) {
          for (int b = 0; b < 3; b++) {
            normal[a][b] += weight * p[a] * p[b];
          }
          normal[a][3] += weight * p[a] * r;
        }
      }
      scale = Math.max(
          field.period() / 200, org.slabnote.methods.fit.RobustFigures.median(moduli) / 0.6745);
      double[] step = Small.solve(normal);
      if (step.length == 0) {
        return null;
      }
      double cover = Math.max(0.5 * c.cover(), Math.min(2 * c.cover(), c.cover() + step[1]));
      c = new Curve(
          c.apex() + Math.max(-0.02, Math.min(0.02, step[0])),
          Math.max(0.003, cover),
          Math.max(0.4, Math.min(1.3, c.flattening() + Math.max(-0.2, Math.min(0.2, step[2])))),
          c.radius(),
          c.separation(),
          c.velocity());
    }
    double[] variance = Small.inverseDiagonal(normal);
    boolean near = Math.abs(c.apex() - first.apex()) < reach
        && Math.abs(c.apexTime() - first.apexTime()) < 0.6 * field.period();
    if (variance.length == 0 || weights < 3 || !near) {
      return null;
    }
    double wavelength = c.velocity() / field.frequency;
    double shared =
        Math.max(1, INDEPENDENT_WAVELENGTHS * wavelength / Math.max(1e-6, field.spacing()));
    double s2 = scale * scale * shared;
    double perCover = 4 * c.cover() / (c.velocity() * c.velocity() * c.apexTime());
    return new ApexFit(
        c, Math.sqrt(s2 * variance[0]), perCover * Math.sqrt(s2 * variance[1]), scale, n);
  }

  /** Derivatives of the time by apex place, cover and flattening: central differences. */
  private static void slopes(Curve c, double x, double[] out) {
    double d = x - c.apex();
    double q = c.flattening();
    double h = c.cover();
    double a = c.radius();
    double s = c.separation();
    double v = c.velocity();
    double dx = 1e-5;
    out[0] = (Curve.time(d - dx, h, q, a, s, v) - Curve.time(d + dx, h, q, a, s, v)) / (2 * dx);
    double dh = 1e-3 * h;
    out[1] = (Curve.time(d, h + dh, q, a, s, v) - Curve.time(d, h - dh, q, a, s, v)) / (2 * dh);
    double dq = 1e-4;
    out[2] = (Curve.time(d, h, q + dq, a, s, v) - Curve.time(d, h, q - dq, a, s, v)) / (2 * dq);
  }
}
