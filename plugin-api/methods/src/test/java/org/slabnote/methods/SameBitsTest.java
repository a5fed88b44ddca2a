package org.slabnote.methods;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.ByteBuffer;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import org.apache.commons.math3.complex.Complex;
import org.junit.jupiter.api.Test;
import org.slabnote.methods.fit.Fit;
import org.slabnote.methods.fit.LeastSquares;
import org.slabnote.methods.fit.SeededNormal;
import org.slabnote.methods.fit.WeightedMean;
import org.slabnote.methods.path.TravelTime;
import org.slabnote.methods.signal.AnalyticSignal;
import org.slabnote.methods.signal.Butterworth;
import org.slabnote.methods.signal.HannBandPass;
import org.slabnote.methods.signal.Interpolation;
import org.slabnote.methods.signal.Semblance;
import org.slabnote.methods.signal.Wavelets;
import org.slabnote.methods.signal.Windows;
import org.slabnote.methods.wave.CylinderTarget;
import org.slabnote.methods.wave.PairTheory;
import org.slabnote.methods.wave.Propagation;
import org.slabnote.methods.wave.Reflection;

/**
 * Bits of many results, the same on Java 17 and 25 (x86-64 Linux).
 *
 * <p>Values are checked elsewhere. A digest that changes with the code means that results change: say so
 * in the changelog and commit the new one. One that changes with the Java version is a fault.
 */
class SameBitsTest {
  private final MessageDigest digest;

  SameBitsTest() throws NoSuchAlgorithmException {
    digest = MessageDigest.getInstance("SHA-256");
  }

  @Test
  void signals() {
    double[] noise = noise(11, 301);
    AnalyticSignal signal = AnalyticSignal.of(noise);
    add(signal.envelope());
    add(signal.phase());
    add(signal.instantaneousFrequency(0.05));
    add(Butterworth.bandPass(4, 0.4, 3, 0.05).zeroPhase(noise));
    add(Butterworth.bandStop(3, 0.9, 1.1, 0.05).causal(noise));
    add(new HannBandPass(0.2, 0.5, 3, 4).apply(noise, 0.05));
    add(Windows.blackman(33));
    add(Windows.tukey(33, 0.3));
    add(Wavelets.ricker(1.7, 0.03, 40));
    float[] trace = new float[noise.length];
    for (int i = 0; i < trace.length; i++) {
      trace[i] = (float) noise[i];
    }
    for (double place = 0.1; place < 300; place += 7.77) {
      add(Interpolation.cubic(trace, place), Interpolation.sinc(trace, place));
    }
    float[][] section = {trace, trace.clone(), new float[301]};
    add(Semblance.along(section, 0, new double[] {3.11, 3.2, 3.3}, 0.05, 4).value());
    add(Semblance.chanceInNoise(0.4, 12, 3.5));
    expect("e22c22df2e5f300bff80c981fd0ecfea2ce26a61e1c4ecbe041c9af6b6a65573");
  }

  @Test
  void fits() {
    double[] x = noise(5, 60);
    double[] noise = noise(6, 60);
    double[] y = new double[60];
    for (int i = 0; i < y.length; i++) {
      double length = TravelTime.cylinderLength(0.3 * x[i], 0.06, 0.008, 0.06);
      y[i] = length / 0.12 + 0.02 * noise[i];
    }
    Fit fit = LeastSquares.of(
            "bits",
            (p, v) -> {
              for (int i = 0; i < v.length; i++) {
                v[i] = TravelTime.cylinder(0.3 * x[i] - p[0], p[1], 0.008, 0.06, 1.3, p[2]);
              }
            },
            y)
        .scales(0.01, 0.05, 0.1)
        .bounds(new double[] {-1, 0.001, 0.05}, new double[] {1, 1, 0.29})
        .robust(1.345)
        .solve(0.01, 0.05, 0.1);
    add(fit.parameters());
    add(fit.standardDeviation(0), fit.standardDeviation(1), fit.correlation(1, 2));
    WeightedMean mean = WeightedMean.of(new double[] {1, 1.2, 0.7}, new double[] {0.1, 0.2, 0.11});
    add(mean.mean(), mean.standardUncertainty(), mean.probability());
    expect("c3dde13400eba1afe2415fce053dea1cbcc9c24181392132551f877c51b5aab0");
  }

  @Test
  void waves() {
    CylinderTarget[] targets = {
      CylinderTarget.metal(0.008),
      CylinderTarget.tube(0.0134, 0.0105, 3, 1),
      CylinderTarget.dielectric(0.006, 80)
    };
    for (CylinderTarget target : targets) {
      PairTheory seen = PairTheory.ofRicker(target, 6.5, 0.06, 0.055, 0.02, 1.6);
      add(seen.ratio(), seen.phase(), seen.acrossTime(), seen.alongTime());
    }
    Propagation.Wave wave = Propagation.wave(7.3, 0.013, 1.9);
    add(wave.attenuation(), wave.velocity(), wave.impedance().getImaginary(), wave.decibels());
    Complex r = Reflection.normal(7, 0.01, 1, 0, 2);
    add(r.getReal(), r.getImaginary());
    expect("d947762bb2d47c381d3bc4412e0cdfc08d8141f2abffe45585952802e2bcc662");
  }

  private static double[] noise(long seed, int count) {
    SeededNormal normal = new SeededNormal(seed);
    double[] values = new double[count];
    for (int i = 0; i < count; i++) {
      values[i] = normal.next();
    }
    return values;
  }

  private void add(double... values) {
    for (double value : values) {
      digest.update(ByteBuffer.allocate(8).putDouble(value).flip());
    }
  }

  private void expect(String sum) {
    assertThat(HexFormat.of().formatHex(digest.digest())).isEqualTo(sum);
  }
}
