package org.slabnote.imaging;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.slabnote.api.quantity.Quantities.MHz;
import static org.slabnote.api.quantity.Quantities.deg;
import static org.slabnote.api.quantity.Quantities.m;
import static org.slabnote.api.quantity.Quantities.mPerNs;
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
import org.slabnote.api.Section;
import org.slabnote.api.Step;
import org.slabnote.api.TimeAxis;
import org.slabnote.api.Track;
import org.slabnote.api.VelocityEstimate;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Angle;
import org.slabnote.api.quantity.Length;
import org.slabnote.api.quantity.Measured;
import org.slabnote.methods.signal.AnalyticSignal;

/** Sections with known focus; their source stands beside them (README.md in the resources). */
class DiffractionStackReferenceTest {
  private static final double V = 0.12;
  private static final double DT = 0.05;

  /** Half a sample is 1.5 mm of depth, half a trace 5 mm. */
  @Test
  void focusesTheKinematicSectionWithinHalfASampleAndHalfATrace() throws IOException {
    double[] focus = focus(stack("diffractor_kinematic.sgy", Phase.AS_RECORDED, 70), false);
    assertThat(focus[0]).isCloseTo(0.27, within(0.005));
    assertThat(focus[1]).isCloseTo(0.18, within(V * DT / 4));
  }

  @Test
  void focusesTheWaveSectionWithItsHalfDerivative() throws IOException {
    double[] focus = focus(stack("diffractor_wave2d.sgy", Phase.HALF_DERIVATIVE, 70), false);
    assertThat(focus[0]).isCloseTo(0.27, within(0.005));
    assertThat(focus[1]).isCloseTo(0.18, within(V * DT / 4));
  }

  @Test
  void envelopeOfThePlainSumIsRightOnTheWaveSection() throws IOException {
    double[] focus = focus(stack("diffractor_wave2d.sgy", Phase.AS_RECORDED, 70), true);
    assertThat(focus[0]).isCloseTo(0.27, within(0.005));
    assertThat(focus[1]).isCloseTo(0.18, within(V * DT / 4));
  }

  /** The plane dips 20 degrees; the unweighted sum of another make gave 19.69, so half a degree. */
  @Test
  void putsADippingPlaneAtItsTrueDip() throws IOException {
    Section image = stack("dipping_plane.sgy", Phase.AS_RECORDED, 50);
    double[] depths = new double[3];
    int[] columns = {15, 22, 29};
    for (int i = 0; i < 3; i++) {
      depths[i] = peak(column(image, columns[i]), true) * image.step().value();
    }
    double dip = StrictMath.atan2(depths[2] - depths[0], 0.14) * 180 / StrictMath.PI;
    assertThat(dip).isCloseTo(20, within(0.5));
    assertThat(depths[1]).isCloseTo(0.08 + 0.22 * 0.3639702343, within(0.004));
  }

  @Test
  void saysWhereNobodySaw() throws IOException {
    Section image = stack("diffractor_kinematic.sgy", Phase.AS_RECORDED, 45);
    // the window ends at 8 ns: 0.48 m
    assertThat(image.values().get(image.depths() - 1)).isNaN();
    assertThat(image.values().get(100)).isFinite();
  }

  private static Section stack(String file, Phase phase, double aperture) throws IOException {
    VelocityEstimate velocity =
        new VelocityEstimate(Measured.exact(mPerNs(V)), "stated", "test", List.of());
    return new DiffractionStack(
            Step.given(scan(file)), Step.given(velocity), mm(1), m(0.52), deg(aperture), phase)
        .apply(Work.serial("test"));
  }

  private static Scan scan(String file) throws IOException {
    byte[] bytes;
    try (InputStream in = DiffractionStackReferenceTest.class.getResourceAsStream(file)) {
      bytes = in.readAllBytes();
    }
    int samples = 160;
    int traces = (bytes.length - 3600) / (240 + 4 * samples);
    float[][] all = new float[traces][samples];
    for (int i = 0; i < traces; i++) {
      ByteBuffer.wrap(bytes, 3600 + i * (240 + 4 * samples) + 240, 4 * samples)
          .asFloatBuffer()
          .get(all[i]);
    }
    return new Scan(
        file,
        "1",
        new Antenna(new Angle(90), new Angle(90), new Length(0), MHz(1200)),
        new TimeAxis(ns(0), ns(DT), samples),
        Track.between(Point.of(0, 0), Point.of(0.01 * (traces - 1), 0), traces),
        Samples.ofTraces(all),
        Optional.of(Measured.exact(ns(0))),
        Optional.empty(),
        List.of());
  }

  private static double[] column(Section image, int i) {
    double[] out = new double[image.depths()];
    for (int j = 0; j < out.length; j++) {
      float value = image.values().get(i * image.depths() + j);
      out[j] = Float.isNaN(value) ? 0 : value;
    }
    return out;
  }

  /** Depth index (from 1) of a column's peak, between samples. */
  private static double peak(double[] column, boolean envelope) {
    double[] v = envelope ? AnalyticSignal.of(column).envelope() : column;
    int best = 1;
    for (int j = 1; j < v.length - 1; j++) {
      best = v[j] > v[best] ? j : best;
    }
    double shift = 0.5 * (v[best - 1] - v[best + 1]) / (v[best - 1] - 2 * v[best] + v[best + 1]);
    return best + 1 + shift;
  }

  private static double[] focus(Section image, boolean envelope) {
    double most = 0;
    int at = 0;
    for (int i = 0; i < image.track().size(); i++) {
      double[] column = column(image, i);
      double[] v = envelope ? AnalyticSignal.of(column).envelope() : column;
      for (double value : v) {
        if (value > most) {
          most = value;
          at = i;
        }
      }
    }
    return new double[] {
      at * 0.01, peak(column(image, at), envelope) * image.step().value()
    };
  }
}
