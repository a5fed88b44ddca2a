package org.slabnote.methods.wave;

import org.apache.commons.math3.complex.Complex;
import org.slabnote.methods.signal.Fft;
import org.slabnote.methods.signal.Wavelets;

/**
 * What a pulse shows of a target in the two antenna orientations, by theory: pair ratio, times, phase.
 *
 * <p>Pair ratio = 20 log10 (peak of the envelope across / along). Times are those of the envelope peaks
 * from the centre of the source pulse; the phase is that of the along less the across analytic signal,
 * each at its own peak, with exp(+j w t). The analytic signal is {@code 2 df sum S(f) E(f) exp(2 pi j f
 * t)} over positive frequencies: exact to the extent that the spectrum ends within them and the echo
 * within 1 / df (see {@link #frequenciesFor}). Peaks are sought on a grid and refined to 1e-7 ns.
 *
 * <p>Two-dimensional antenna pair in a uniform host; see {@link CylinderScattering#pair}. At normal
 * cover the antenna geometry counts as much as the target.
 *
 * <p>Check: PairTheoryReferenceTest.
 *
 * @param ratio pair ratio, dB, positive where across is stronger
 * @param phase phase of along less across, radians, above -pi to pi
 * @param acrossTime time of the across envelope's peak, ns
 * @param alongTime time of the along envelope's peak, ns
 * @param across complex analytic amplitude at the across peak, arbitrary but common unit
 * @param along complex analytic amplitude at the along peak, same unit
 * @since 0.1
 */
public record PairTheory(
    double ratio,
    double phase,
    double acrossTime,
    double alongTime,
    Complex across,
    Complex along) {

  /** Length in ns that an echo is given before its end would be heard at its beginning. */
  private static final double ROOM = 40;

  /** The same for targets of greater permittivity than the host: as water, they ring long. */
  private static final double ROOM_FOR_RINGING = 160;

  /** Highest frequency as a multiple of the peak: the Ricker spectrum is below 1e-8 of its peak there. */
  private static final double REACH = 4.5;

  /** Spectrum of the source strength. */
  @FunctionalInterface
  public interface Pulse {
    /**
     * Spectral amplitude.
     *
     * @param frequency GHz, above 0
     * @return complex amplitude, exp(+j w t), any unit
     */
    Complex at(double frequency);
  }

  /**
   * Frequencies that serve an echo: evenly spaced, up to 4.5 times the peak of the source.
   *
   * <p>Spacing 1 / 40 ns; 1 / 160 ns for a target with a part of more than twice the host's permittivity,
   * which rings for long (a 20 mm water cylinder is then right to 0.02 dB; at 1 / 40 ns it is 0.2 dB
   * off).
   *
   * @param target cylinder
   * @param epsHost permittivity of the host, 1 or more
   * @param peakFrequency peak of the source's spectrum, GHz, above 0, up to 20
   * @return frequencies, GHz, from the first step on
   * @throws IllegalArgumentException if the frequency is outside its range
   */
  public static double[] frequenciesFor(
      CylinderTarget target, double epsHost, double peakFrequency) {
    boolean rings = rings(target.shell(), epsHost) || rings(target.core(), epsHost);
    return frequencies(peakFrequency, rings ? ROOM_FOR_RINGING : ROOM);
  }

  private static boolean rings(double permittivity, double epsHost) {
    return permittivity > 2 * epsHost && !Double.isInfinite(permittivity);
  }

  private static double[] frequencies(double peakFrequency, double room) {
    if (!(peakFrequency > 0 && peakFrequency <= 20)) {
      throw new IllegalArgumentException(
          "pair theory: peak frequency = " + peakFrequency + " GHz; expected above 0, up to 20");
    }
    double[] frequencies = new double[(int) Math.ceil(REACH * peakFrequency * room)];
    for (int i = 0; i < frequencies.length; i++) {
      frequencies[i] = (i + 1) / room;
    }
    return frequencies;
  }

  /**
   * Zero-phase Ricker pulse in the source strength.
   *
   * @param peakFrequency peak of its spectrum, GHz, above 0
   * @return pulse
   */
  public static Pulse ricker(double peakFrequency) {
    return f -> new Complex(Wavelets.rickerSpectrum(f, peakFrequency), 0);
  }

  /**
   * Theory for a cylinder and a Ricker source.
   *
   * @param target cylinder
   * @param epsHost permittivity of the host, 1 to 100
   * @param separation transmitter to receiver, m, 0 or more
   * @param cover depth of the top, m, above 0
   * @param offset midpoint of the antennas less the axis, m, any sign
   * @param peakFrequency peak of the source's spectrum, GHz, above 0, up to 20
   * @return what is seen
   * @throws IllegalArgumentException if an argument is outside its range
   */
  public static PairTheory ofRicker(
      CylinderTarget target,
      double epsHost,
      double separation,
      double cover,
      double offset,
      double peakFrequency) {
    CylinderEcho echo =
        CylinderEcho.of(target, epsHost, frequenciesFor(target, epsHost, peakFrequency));
    return of(echo.at(separation, cover, offset), ricker(peakFrequency));
  }

  /**
   * Theory for a perfectly reflecting plane and a Ricker source.
   *
   * @param epsHost permittivity of the host, 1 to 100
   * @param separation transmitter to receiver, m, 0 or more
   * @param depth depth of the plane, m, above 0
   * @param peakFrequency peak of the source's spectrum, GHz, above 0, up to 20
   * @return what is seen
   * @throws IllegalArgumentException if an argument is outside its range
   */
  public static PairTheory ofPlane(
      double epsHost, double separation, double depth, double peakFrequency) {
    double velocity = Propagation.velocity(epsHost);
    double[] frequencies = frequencies(peakFrequency, ROOM);
    PairSpectrum spectrum = new PairSpectrum(frequencies);
    for (int i = 0; i < frequencies.length; i++) {
      double k = 2 * Math.PI * frequencies[i] / velocity;
      spectrum.set(i, DipolePair.plane(k, separation, depth));
    }
    return of(spectrum, ricker(peakFrequency));
  }

  /**
   * Theory for any spectrum of an echo and any source pulse.
   *
   * @param spectrum echo for unit source strength, at frequencies df, 2 df, 3 df, ...
   * @param pulse spectrum of the source strength
   * @return what is seen
   * @throws IllegalArgumentException if the frequencies are not df, 2 df, ... or nothing is received
   */
  public static PairTheory of(PairSpectrum spectrum, Pulse pulse) {
    double step = spectrum.frequency(0);
    double[][] received = received(spectrum, pulse);
    double acrossTime = peakTime(received[0], step);
    double alongTime = peakTime(received[1], step);
    Complex across = analytic(received[0], step, acrossTime);
    Complex along = analytic(received[1], step, alongTime);
    double ratio = 20 * StrictMath.log10(modulus(across) / modulus(along));
    return new PairTheory(ratio, phase(across, along), acrossTime, alongTime, across, along);
  }

  /** Spectra of across and along, source included. */
  static double[][] received(PairSpectrum spectrum, Pulse pulse) {
    int n = spectrum.size();
    double step = spectrum.frequency(0);
    double[][] received = new double[2][2 * n];
    for (int i = 0; i < n; i++) {
      if (Math.abs(spectrum.frequency(i) - (i + 1) * step) > 1e-9 * step * n) {
        throw new IllegalArgumentException(
            "pair theory: frequency " + i + " = " + spectrum.frequency(i)
                + " GHz; expected even multiples of the first, " + step + " GHz");
      }
      Complex source = pulse.at(spectrum.frequency(i));
      for (int k = 0; k < 2; k++) {
        double re = spectrum.part(i, 2 * k);
        double im = spectrum.part(i, 2 * k + 1);
        received[k][2 * i] = re * source.getReal() - im * source.getImaginary();
        received[k][2 * i + 1] = re * source.getImaginary() + im * source.getReal();
      }
    }
    return received;
  }

  static double phase(Complex across, Complex along) {
    Complex turn = along.multiply(across.conjugate());
    return StrictMath.atan2(turn.getImaginary(), turn.getReal());
  }

  private static double modulus(Complex z) {
    return Math.sqrt(z.getReal() * z.getReal() + z.getImaginary() * z.getImaginary());
  }

  /** Time of the envelope's greatest value: grid of a sixteenth of the shortest period, then thirds. */
  private static double peakTime(double[] spectrum, double step) {
    int n = spectrum.length / 2;
    int length = Fft.fastLength(16 * (n + 1));
    double[] grid = new double[2 * length];
    System.arraycopy(spectrum, 0, grid, 2, spectrum.length);
    Fft.of(length).inverse(grid);
    int best = -1;
    double most = 0;
    for (int i = 0; i < length; i++) {
      double square = grid[2 * i] * grid[2 * i] + grid[2 * i + 1] * grid[2 * i + 1];
      if (square > most) {
        most = square;
        best = i;
      }
    }
    if (best < 0) {
      throw new IllegalArgumentException(
          "pair theory: nothing is received; expected a pulse within the frequencies");
    }
    double interval = 1 / (step * length);
    // the envelope's phase origin is the pulse's centre: late grid times are early ones, before it
    double centre = (best > length / 2 ? best - length : best) * interval;
    double low = centre - interval;
    double high = centre + interval;
    while (high - low > 1e-7) {
      double a = low + (high - low) / 3;
      double b = high - (high - low) / 3;
      if (modulus(analytic(spectrum, step, a)) < modulus(analytic(spectrum, step, b))) {
        low = a;
      } else {
        high = b;
      }
    }
    return (low + high) / 2;
  }

  /** {@code 2 df sum S exp(2 pi j f t)}, powers of the first factor by multiplication. */
  static Complex analytic(double[] spectrum, double step, double time) {
    double angle = 2 * Math.PI * step * time;
    double cos1 = StrictMath.cos(angle);
    double sin1 = StrictMath.sin(angle);
    double cos = cos1;
    double sin = sin1;
    double re = 0;
    double im = 0;
    for (int i = 0; i < spectrum.length; i += 2) {
      re += spectrum[i] * cos - spectrum[i + 1] * sin;
      im += spectrum[i] * sin + spectrum[i + 1] * cos;
      double next = cos * cos1 - sin * sin1;
      sin = sin * cos1 + cos * sin1;
      cos = next;
    }
    return new Complex(2 * step * re, 2 * step * im);
  }
}
