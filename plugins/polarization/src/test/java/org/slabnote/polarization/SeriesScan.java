package org.slabnote.polarization;

import static org.slabnote.api.quantity.Quantities.MHz;
import static org.slabnote.api.quantity.Quantities.deg;
import static org.slabnote.api.quantity.Quantities.m;
import static org.slabnote.api.quantity.Quantities.ns;

import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import org.apache.commons.math3.complex.Complex;
import org.slabnote.api.Antenna;
import org.slabnote.api.Point;
import org.slabnote.api.Samples;
import org.slabnote.api.Scan;
import org.slabnote.api.TimeAxis;
import org.slabnote.api.Track;
import org.slabnote.api.quantity.Measured;
import org.slabnote.methods.signal.Fft;
import org.slabnote.methods.signal.Wavelets;
import org.slabnote.methods.wave.CylinderEcho;
import org.slabnote.methods.wave.CylinderTarget;
import org.slabnote.methods.wave.PairSpectrum;

/** Scans by the exact cylinder series in a uniform host, with noise; no direct wave. */
final class SeriesScan {
  static final double ZERO = 1.0;
  private final double eps;
  private final double separation;
  private final double frequency;
  private final double interval;
  private final double step;
  private final int traces;
  private final int samples;
  private final double[][][] field;

  SeriesScan(double eps, double separation, double frequency, double length, double step) {
    this.eps = eps;
    this.separation = separation;
    this.frequency = frequency;
    this.step = step;
    this.interval = 0.06 / frequency;
    this.samples = (int) Math.min(360, Math.ceil((ZERO + 5.5 * Math.sqrt(eps / 6)) / interval));
    this.traces = (int) Math.round(length / step) + 1;
    this.field = new double[2][traces][samples];
  }

  /** Adds a cylinder crossed at an angle whose sine is given. */
  SeriesScan add(CylinderTarget target, double place, double cover, double sine) {
    int n = Fft.fastLength(2 * samples);
    double df = 1 / (n * interval);
    int low = (int) Math.ceil(0.15 * frequency / df);
    int high = (int) Math.floor(2.6 * frequency / df);
    double[] f = new double[high - low + 1];
    for (int i = 0; i < f.length; i++) {
      f[i] = (low + i) * df;
    }
    CylinderEcho echo = CylinderEcho.of(target, eps, f);
    for (int k = 0; k < traces; k++) {
      PairSpectrum s = echo.at(separation * sine, cover, (k * step - place) * sine);
      for (int c = 0; c < 2; c++) {
        double[] half = new double[2 * (n / 2 + 1)];
        for (int i = 0; i < f.length; i++) {
          Complex z = c == 0 ? s.across(i) : s.along(i);
          double size = Wavelets.rickerSpectrum(f[i], frequency);
          double turn = -2 * Math.PI * f[i] * ZERO;
          double re = size * StrictMath.cos(turn);
          double im = size * StrictMath.sin(turn);
          half[2 * (low + i)] = z.getReal() * re - z.getImaginary() * im;
          half[2 * (low + i) + 1] = z.getReal() * im + z.getImaginary() * re;
        }
        double[] trace = Fft.of(n).inverseReal(half);
        for (int j = 0; j < samples; j++) {
          field[c][k][j] += trace[j];
        }
      }
    }
    return this;
  }

  /** One of the two scans; noise as a share of the greatest sample across. */
  Scan scan(String pass, boolean across, double noise, long seed) {
    double most = 1e-12;
    for (double[] trace : field[0]) {
      for (double v : trace) {
        most = Math.max(most, Math.abs(v));
      }
    }
    SplittableRandom random = new SplittableRandom(seed + (across ? 0 : 1000));
    double[][] own = field[across ? 0 : 1];
    float[][] all = new float[traces][samples];
    for (int k = 0; k < traces; k++) {
      for (int j = 0; j < samples; j++) {
        all[k][j] = (float) (own[k][j] / most + noise * random.nextGaussian());
      }
    }
    double dipole = across ? 90 : 0;
    return new Scan(
        pass,
        across ? "1" : "2",
        new Antenna(deg(dipole), deg(dipole), m(separation), MHz(frequency * 1000)),
        new TimeAxis(ns(0), ns(interval), samples),
        Track.between(Point.of(0, 0), Point.of((traces - 1) * step, 0), traces),
        Samples.ofTraces(all),
        Optional.of(Measured.of(ns(ZERO), "surface#time zero", ns(0.02))),
        Optional.empty(),
        List.of());
  }
}
