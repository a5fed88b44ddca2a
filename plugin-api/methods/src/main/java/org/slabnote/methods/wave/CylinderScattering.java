package org.slabnote.methods.wave;

import org.apache.commons.math3.complex.Complex;

/**
 * Scattering of one frequency by an infinitely long cylinder in a lossless host, normal incidence.
 *
 * <p>Series over the orders n with coefficients {@code a_n = (mu J q - J' p) / (H' p - mu H q)}, J and
 * H = H_n^(2) at ka (k wave number in the host, a outside radius), p and q the inside field's value and
 * slope (per own argument) at a; mu = m for TM and 1 / m for TE, m = sqrt(eps_shell / eps_host).
 * Conductor: TM {@code -J / H}, TE {@code -J' / H'}. A core enters through p and q.
 *
 * <p>Sums of near fields stop where the rest is below rounding, n about {@code ka + 12 + 37 / ln(rho_1
 * rho_2 / a^2)}; numerators and denominators are kept apart, so that no order underflows before it is
 * negligible. With a cover of a
 * seventh of the radius the pair's ratio still has 13 digits.
 *
 * <p>Source: Balanis, Advanced Engineering Electromagnetics, 2nd ed. 2012, ch. 11; Bowman, Senior,
 * Uslenghi 1987, ch. 2. Check: CylinderReferenceTest.
 *
 * @since 0.1
 */
public final class CylinderScattering {
  private static final int LEAST_ORDERS = 90;

  private final double waveNumber;
  private final double radius;
  // numerator (real) and denominator (complex) of a_n for TM and TE
  private final double[][] numerator = new double[2][];
  private final double[][] real = new double[2][];
  private final double[][] imaginary = new double[2][];
  private final int orders;

  private CylinderScattering(CylinderTarget target, double epsHost, double frequency) {
    double inAir = 2 * Math.PI * frequency / Propagation.LIGHT;
    waveNumber = inAir * Math.sqrt(epsHost);
    radius = target.radius();
    double ka = waveNumber * radius;
    int wanted = LEAST_ORDERS + (int) (1.6 * ka);
    Bessel host = Bessel.of(wanted, ka);
    for (int tm = 0; tm < 2; tm++) {
      numerator[tm] = new double[wanted + 1];
      real[tm] = new double[wanted + 1];
      imaginary[tm] = new double[wanted + 1];
    }
    if (target.isMetal()) {
      orders = fill(
          host,
          wanted,
          (tm, n, pq) -> {
            pq[0] = tm ? 0 : 1;
            pq[1] = tm ? 1 : 0;
          },
          1,
          1);
    } else {
      double m = Math.sqrt(target.shell() / epsHost);
      Inside inside = target.innerRadius() == 0 || target.core() == target.shell()
          ? solid(wanted, inAir * Math.sqrt(target.shell()) * radius)
          : layered(wanted, target, inAir);
      orders = fill(host, wanted, inside, m, 1 / m);
    }
  }

  /** Value and slope of the regular inside field at the outside radius, to a common factor. */
  private interface Inside {
    void at(boolean tm, int n, double[] pq);
  }

  /**
   * Computes the coefficients.
   *
   * @param target cylinder
   * @param epsHost permittivity of the host, 1 to 100
   * @param frequency frequency, GHz, above 0, with k a up to 500
   * @return the coefficients
   * @throws IllegalArgumentException if an argument is outside its range
   */
  public static CylinderScattering of(CylinderTarget target, double epsHost, double frequency) {
    if (!(epsHost >= 1 && epsHost <= 100)) {
      throw new IllegalArgumentException(
          "cylinder scattering: permittivity of the host = " + epsHost + "; expected 1 to 100");
    }
    double ka = 2 * Math.PI * frequency / Propagation.LIGHT * Math.sqrt(epsHost) * target.radius();
    if (!(ka > 0 && ka <= 500)) {
      throw new IllegalArgumentException("cylinder scattering: frequency = " + frequency
          + " GHz makes k a = " + ka + "; expected above 0, up to 500");
    }
    return new CylinderScattering(target, epsHost, frequency);
  }

  /**
   * Coefficient a_n.
   *
   * @param polarization TM or TE
   * @param n order, 0 or more
   * @return coefficient of E_z (TM) or H_z (TE); 0 beyond the orders that matter
   */
  public Complex coefficient(Polarization polarization, int n) {
    int p = polarization.ordinal();
    if (n > orders) {
      return Complex.ZERO;
    }
    double d = real[p][n] * real[p][n] + imaginary[p][n] * imaginary[p][n];
    if (Double.isInfinite(d)) {
      return Complex.ZERO; // its square is beyond 1e308: a_n is below 1e-300
    }
    return new Complex(numerator[p][n] * real[p][n] / d, -numerator[p][n] * imaginary[p][n] / d);
  }

  /**
   * Far-field pattern {@code S(phi) = a_0 + 2 sum a_n cos(n phi)}.
   *
   * <p>Far field = E0 sqrt(2 j / (pi k rho)) exp(-j k rho) S.
   *
   * @param polarization TM: factor of E_z, TE: factor of H_z
   * @param phi scattering angle, radians, 0 forward, pi backscatter
   * @return S
   */
  public Complex pattern(Polarization polarization, double phi) {
    double re = 0;
    double im = 0;
    for (int n = 0; n <= orders; n++) {
      Complex a = coefficient(polarization, n);
      double factor = n == 0 ? 1 : 2 * StrictMath.cos(n * phi);
      re += factor * a.getReal();
      im += factor * a.getImaginary();
      if (n > waveNumber * radius && a.abs() < 1e-20) {
        break;
      }
    }
    return new Complex(re, im);
  }

  /**
   * Backscatter of a plane wave, referred to the electric field along the antenna: {@code F_TM = S(pi)},
   * {@code F_TE = -S(pi)}. Both tend to -1, the plane's, for a great conductor.
   *
   * @param polarization TM or TE
   * @return F
   */
  public Complex backscatter(Polarization polarization) {
    Complex s = pattern(polarization, Math.PI);
    return polarization == Polarization.TM ? s : s.negate();
  }

  /**
   * Scattered field of a line source parallel to the axis: {@code sum a_n H_n(k rho_s) H_n(k rho_o)
   * exp(j n phi)}; the incident field on the same scale is {@code H_0(k d)}.
   *
   * @param polarization TM: electric line current, E_z; TE: magnetic line current, H_z
   * @param source distance of the source from the axis, m, above the radius
   * @param observer distance of the observer from the axis, m, above the radius
   * @param phi angle between them seen from the axis, radians, 0 = same side
   * @return scattered field
   * @throws IllegalArgumentException if one is inside the cylinder
   */
  public Complex lineSource(Polarization polarization, double source, double observer, double phi) {
    int last = lastOrder(source, observer);
    Bessel s = Bessel.of(last, waveNumber * source);
    Bessel o = source == observer ? s : Bessel.of(last, waveNumber * observer);
    int p = polarization.ordinal();
    double re = 0;
    double im = 0;
    for (int n = 0; n <= last; n++) {
      double d = numerator[p][n];
      double factor = n == 0 ? 1 : 2 * StrictMath.cos(n * phi);
      // (numerator H_source) (H_observer / denominator): both stay in range
      double sr = d * s.j(n);
      double si = -d * s.y(n);
      double or = quotientReal(o.j(n), -o.y(n), real[p][n], imaginary[p][n]);
      double oi = quotientImaginary(o.j(n), -o.y(n), real[p][n], imaginary[p][n]);
      re += factor * (sr * or - si * oi);
      im += factor * (sr * oi + si * or);
    }
    return new Complex(re, im);
  }

  /**
   * What the two antenna orientations receive from the cylinder, as {@code {across real, across
   * imaginary, along real, along imaginary}}.
   *
   * <p>Transmitter and receiver stand {@code separation} apart in a line square to the axis, at the
   * height {@code cover} above the top. Across: line current along the axis, E along the axis, G. Along:
   * horizontal dipole line in the plane, horizontal E, {@code d^2 G_TE / (dy_t dy_r) / k^2}. Both are
   * the received field for equal source strength I(w), up to the common factor {@code -w mu I / 4}.
   *
   * @param separation transmitter to receiver, m, 0 or more
   * @param cover height above the top of the cylinder, m, above 0
   * @param offset midpoint of the antennas less the axis, m, any sign
   * @return four numbers
   * @throws IllegalArgumentException if an argument is outside its range
   */
  public double[] pair(double separation, double cover, double offset) {
    double y = cover + radius;
    double xt = offset - separation / 2;
    double xr = offset + separation / 2;
    if (!(cover > 0) || !(separation >= 0) || Double.isNaN(offset)) {
      throw new IllegalArgumentException(
          "cylinder scattering: separation = " + separation + " m, cover = " + cover
              + " m, offset = " + offset + " m; expected 0 or more, above 0, any");
    }
    double rhoT = Math.sqrt(xt * xt + y * y);
    double rhoR = Math.sqrt(xr * xr + y * y);
    int last = lastOrder(rhoT, rhoR);
    Bessel t = Bessel.of(last, waveNumber * rhoT);
    Bessel r = rhoT == rhoR ? t : Bessel.of(last, waveNumber * rhoR);
    double[] sum = new double[4];
    // angles are counted at the axis from the upward direction towards +x
    double cosT = y / rhoT;
    double sinT = xt / rhoT;
    double cosR = y / rhoR;
    double sinR = xr / rhoR;
    double cos1 = cosT * cosR + sinT * sinR; // of the angle from transmitter to receiver
    double sin1 = sinR * cosT - cosR * sinT;
    double cosN = 1;
    double sinN = 0;
    for (int n = 0; n <= last; n++) {
      if (n > 0) {
        double next = cosN * cos1 - sinN * sin1;
        sinN = sinN * cos1 + cosN * sin1;
        cosN = next;
      }
      addAcross(sum, n, t, r, n == 0 ? 1 : 2 * cosN);
      addAlong(sum, n, t, r, cosN, sinN, cosT, sinT, cosR, sinR);
    }
    return sum;
  }

  /**
   * Wave number in the host.
   *
   * @return k, rad/m
   */
  public double waveNumber() {
    return waveNumber;
  }

  private void addAcross(double[] sum, int n, Bessel t, Bessel r, double factor) {
    double num = numerator[0][n] * factor;
    double tr = num * t.j(n);
    double ti = -num * t.y(n);
    double rr = quotientReal(r.j(n), -r.y(n), real[0][n], imaginary[0][n]);
    double ri = quotientImaginary(r.j(n), -r.y(n), real[0][n], imaginary[0][n]);
    sum[0] += tr * rr - ti * ri;
    sum[1] += tr * ri + ti * rr;
  }

  /**
   * Orders +n and -n together: 2 cos(n d) (cR cT R'T' + n^2 sR sT R T) - 2 n sin(n d) (cR sT R'T - sR
   * cT R T'), R and T being H_n / (k rho), d the angle from transmitter to receiver.
   */
  private void addAlong(
      double[] sum,
      int n,
      Bessel t,
      Bessel r,
      double cosN,
      double sinN,
      double cosT,
      double sinT,
      double cosR,
      double sinR) {
    double num = numerator[1][n];
    double dr = real[1][n];
    double di = imaginary[1][n];
    double tSlopeRe = cosT * num * t.dj(n);
    double tSlopeIm = -cosT * num * t.dy(n);
    double rSlopeRe = cosR * quotientReal(r.dj(n), -r.dy(n), dr, di);
    double rSlopeIm = cosR * quotientImaginary(r.dj(n), -r.dy(n), dr, di);
    if (n == 0) {
      sum[2] += tSlopeRe * rSlopeRe - tSlopeIm * rSlopeIm;
      sum[3] += tSlopeRe * rSlopeIm + tSlopeIm * rSlopeRe;
      return;
    }
    double tTurn = sinT * num * n / t.argument();
    double tTurnRe = tTurn * t.j(n);
    double tTurnIm = -tTurn * t.y(n);
    double rTurn = sinR * n / r.argument();
    double rTurnRe = rTurn * quotientReal(r.j(n), -r.y(n), dr, di);
    double rTurnIm = rTurn * quotientImaginary(r.j(n), -r.y(n), dr, di);
    double evenRe =
        tSlopeRe * rSlopeRe - tSlopeIm * rSlopeIm + tTurnRe * rTurnRe - tTurnIm * rTurnIm;
    double evenIm =
        tSlopeRe * rSlopeIm + tSlopeIm * rSlopeRe + tTurnRe * rTurnIm + tTurnIm * rTurnRe;
    double oddRe =
        rSlopeRe * tTurnRe - rSlopeIm * tTurnIm - rTurnRe * tSlopeRe + rTurnIm * tSlopeIm;
    double oddIm =
        rSlopeRe * tTurnIm + rSlopeIm * tTurnRe - rTurnRe * tSlopeIm - rTurnIm * tSlopeRe;
    sum[2] += 2 * (cosN * evenRe - sinN * oddRe);
    sum[3] += 2 * (cosN * evenIm - sinN * oddIm);
  }

  private int lastOrder(double rho1, double rho2) {
    if (!(rho1 > radius && rho2 > radius) || Double.isInfinite(rho1 * rho2)) {
      throw new IllegalArgumentException("cylinder scattering: distances " + rho1 + " and " + rho2
          + " m from the axis; expected above the radius, " + radius + " m");
    }
    double decay = StrictMath.log(rho1 * rho2 / (radius * radius));
    return (int) Math.min(orders, waveNumber * radius + 12 + 37 / decay);
  }

  /** Fills the coefficients; returns the last order whose parts are all finite. */
  private int fill(Bessel host, int wanted, Inside inside, double muTm, double muTe) {
    double[] pq = new double[2];
    for (int n = 0; n <= wanted; n++) {
      for (int polarization = 0; polarization < 2; polarization++) {
        boolean tm = polarization == 0;
        double mu = tm ? muTm : muTe;
        inside.at(tm, n, pq);
        double size = Math.max(Math.abs(pq[0]), Math.abs(pq[1]));
        double p = pq[0] / size;
        double q = pq[1] / size;
        double num = mu * host.j(n) * q - host.dj(n) * p;
        double re = -num; // H = J - j Y: the real part of the denominator is minus the numerator
        double im = mu * host.y(n) * q - host.dy(n) * p;
        if (!(size > 0) || Double.isNaN(im) || Double.isInfinite(im) || Double.isNaN(num)) {
          return n - 1;
        }
        numerator[polarization][n] = num;
        real[polarization][n] = re;
        imaginary[polarization][n] = im;
      }
    }
    return wanted;
  }

  private static Inside solid(int wanted, double argument) {
    Bessel b = Bessel.of(wanted, argument);
    return (tm, n, pq) -> {
      pq[0] = b.j(n);
      pq[1] = b.dj(n);
    };
  }

  /**
   * Field in the shell alpha J + beta Y, joined at the core: with value f and slope g there and x the
   * shell's argument, alpha = (pi x / 2) (f Y' - g Y), beta = -(pi x / 2) (f J' - g J).
   */
  private static Inside layered(int wanted, CylinderTarget target, double inAir) {
    double shellIndex = Math.sqrt(target.shell());
    Bessel outer = Bessel.of(wanted, inAir * shellIndex * target.radius());
    Bessel inner = Bessel.of(wanted, inAir * shellIndex * target.innerRadius());
    boolean metalCore = Double.isInfinite(target.core());
    double coreIndex = metalCore ? 1 : Math.sqrt(target.core());
    Bessel core = Bessel.of(wanted, inAir * coreIndex * target.innerRadius());
    return (tm, n, pq) -> {
      double f;
      double g;
      if (metalCore) {
        f = tm ? 0 : 1;
        g = tm ? 1 : 0;
      } else {
        double slope = tm ? coreIndex / shellIndex : shellIndex / coreIndex;
        double size = Math.max(Math.abs(core.j(n)), Math.abs(core.dj(n)));
        f = core.j(n) / size;
        g = slope * core.dj(n) / size;
      }
      double alpha = f * inner.dy(n) - g * inner.y(n);
      double beta = g * inner.j(n) - f * inner.dj(n);
      pq[0] = alpha * outer.j(n) + beta * outer.y(n);
      pq[1] = alpha * outer.dj(n) + beta * outer.dy(n);
    };
  }

  /** Real part of (a + jb) / (c + jd), by the greater part of the divisor, so that it cannot overflow. */
  private static double quotientReal(double a, double b, double c, double d) {
    if (Math.abs(c) > Math.abs(d)) {
      double ratio = d / c;
      return (a + b * ratio) / (c + d * ratio);
    }
    double ratio = c / d;
    return (a * ratio + b) / (c * ratio + d);
  }

  private static double quotientImaginary(double a, double b, double c, double d) {
    if (Math.abs(c) > Math.abs(d)) {
      double ratio = d / c;
      return (b - a * ratio) / (c + d * ratio);
    }
    double ratio = c / d;
    return (b * ratio - a) / (c * ratio + d);
  }
}
