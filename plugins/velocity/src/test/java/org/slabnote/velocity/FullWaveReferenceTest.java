package org.slabnote.velocity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.slabnote.api.quantity.Quantities.MHz;
import static org.slabnote.api.quantity.Quantities.deg;
import static org.slabnote.api.quantity.Quantities.m;
import static org.slabnote.api.quantity.Quantities.mm;
import static org.slabnote.api.quantity.Quantities.ns;

import java.io.IOException;
import java.io.InputStream;
import java.nio.ByteBuffer;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.slabnote.api.Antenna;
import org.slabnote.api.Point;
import org.slabnote.api.Samples;
import org.slabnote.api.Scan;
import org.slabnote.api.Step;
import org.slabnote.api.TimeAxis;
import org.slabnote.api.Track;
import org.slabnote.api.VelocityEstimate;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Length;
import org.slabnote.api.quantity.Measured;
import org.slabnote.api.quantity.TimeSpan;
import org.slabnote.methods.fit.RobustFigures;
import org.slabnote.methods.path.TravelTime;
import org.slabnote.methods.signal.AnalyticSignal;

/** Bar of 16 mm under 60 mm of permittivity 6, by a full-wave solver (README beside the file). */
class FullWaveReferenceTest {
  private static final int TRACES = 61;
  private static final int SAMPLES = 400;

  @Test
  void findsPermittivityPlaceAndCover() throws IOException {
    Scan scan = scan();
    List<VelocityEstimate> fits =
        new FitDiffractions(Step.given(scan), mm(12)).apply(Work.serial("fits"));
    assertThat(fits).hasSize(1);
    var eps = fits.get(0).permittivity();
    assertThat(eps.value().value()).isBetween(5.7, 6.3); // within 5 %
    assertThat(Math.abs(eps.value().value() - 6)).isLessThan(eps.u95().value());
    // pass starts at 0.100 m, the bar lies at 0.400 m
    double place =
        Double.parseDouble(fits.get(0).evidence().replaceAll(".*apex at ([0-9.]+) m.*", "$1"));
    assertThat(place).isBetween(0.290, 0.310);
  }

  @Test
  void coverByThatVelocityHoldsWithinItsUncertainty() throws IOException {
    Scan scan = scan();
    VelocityEstimate fit =
        new FitDiffractions(Step.given(scan), mm(12)).apply(Work.serial("fits")).get(0);
    AnalyticSignal apex = AnalyticSignal.of(scan.trace(30));
    double t =
        peak(apex.envelope(), 75, 115) * 0.02 - scan.requireSurface().value().value();
    double v = fit.velocity().value().value();
    double z = TravelTime.depth(t, 0.06, v);
    // dz/dt = v^2 t / (4 z), dz/dv = v t^2 / (4 z)
    Measured<Length> cover = Measured.about(new Length(z))
        .from(fit.velocity(), v * t * t / (4 * z))
        .from(scan.requireSurface(), -v * v * t / (4 * z))
        .build();
    assertThat(z).isBetween(0.055, 0.065); // within 5 mm
    assertThat(cover.u95().value()).isLessThan(0.010);
    assertThat(Math.abs(z - 0.060)).isLessThan(cover.u95().value());
  }

  /** Median of the pass taken out; surface time as the direct wave's envelope peak less s / c. */
  private static Scan scan() throws IOException {
    float[][] raw = read();
    float[] median = new float[SAMPLES];
    double[] column = new double[TRACES];
    for (int j = 0; j < SAMPLES; j++) {
      for (int i = 0; i < TRACES; i++) {
        column[i] = raw[i][j];
      }
      median[j] = (float) RobustFigures.median(column);
    }
    double direct = peak(AnalyticSignal.of(median).envelope(), 20, 70) * 0.02;
    for (float[] trace : raw) {
      for (int j = 0; j < SAMPLES; j++) {
        trace[j] -= median[j];
      }
    }
    Measured<TimeSpan> surface =
        Measured.of(ns(direct - 0.06 / 0.299792458), "surface#time zero pick", ns(0.5 / 9));
    return new Scan(
        "S1",
        "1",
        new Antenna(deg(90), deg(90), m(0.06), MHz(2000)),
        new TimeAxis(ns(0), ns(0.02), SAMPLES),
        Track.between(Point.of(0.1, 0), Point.of(0.7, 0), TRACES),
        Samples.ofTraces(raw),
        Optional.of(surface),
        Optional.empty(),
        List.of());
  }

  private static double peak(double[] e, int from, int to) {
    int at = from;
    for (int j = from; j < to; j++) {
      at = e[j] > e[at] ? j : at;
    }
    double bend = e[at - 1] - 2 * e[at] + e[at + 1];
    return at + (e[at - 1] - e[at + 1]) / (2 * bend);
  }

  private static float[][] read() throws IOException {
    try (InputStream in = FullWaveReferenceTest.class.getResourceAsStream("S1_across.sgy")) {
      assertThat(in).isNotNull();
      ByteBuffer bytes = ByteBuffer.wrap(in.readAllBytes());
      float[][] traces = new float[TRACES][SAMPLES];
      for (int i = 0; i < TRACES; i++) {
        for (int j = 0; j < SAMPLES; j++) {
          traces[i][j] = bytes.getFloat(3600 + i * (240 + 4 * SAMPLES) + 240 + 4 * j);
        }
      }
      return traces;
    }
  }
}
