package org.slabnote.imaging;

import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Param;
import org.slabnote.api.Purpose;
import org.slabnote.api.Samples;
import org.slabnote.api.Scan;
import org.slabnote.api.Section;
import org.slabnote.api.Step;
import org.slabnote.api.VelocityEstimate;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Angle;
import org.slabnote.api.quantity.Length;
import org.slabnote.methods.signal.Fft;

/**
 * Two-dimensional diffraction stack (Kirchhoff) of one pass, in depth.
 *
 * <p>The value at distance x and depth z is the mean over the traces within the aperture of the sample
 * at {@code t = (|tx - p| + |rx - p|) / v}, transmitter and receiver half a separation to each side of
 * the trace's place, linear between samples. Traces count by the obliquity {@code z / r}. Where a
 * trace's time lies outside its window it does not count; where none counts the value is NaN, for
 * nobody saw it.
 *
 * <p>Aperture: traces seen from the point within this angle from the vertical. Wide apertures sharpen
 * and alias: at an angle a, trace steps above {@code v / (4 f sin a)} alias. Constant velocity; right
 * only for targets crossed squarely.
 *
 * <p>Source: Schneider 1978, Geophysics 43, 49-76 (from memory); the bistatic path in place of twice
 * the one-way time is ours. Check: DiffractionStackReferenceTest.
 *
 * @param scan scan with known surface time, ungained for true amplitudes
 * @param velocity wave velocity
 * @param depthStep step in depth
 * @param depth greatest depth
 * @param aperture greatest angle from the vertical
 * @param phase what to do to the phase
 * @since 0.1
 */
@Op(id = "imaging.diffraction-stack", revision = 1, purpose = Purpose.IMAGING)
public record DiffractionStack(
    Step<Scan> scan,
    Step<VelocityEstimate> velocity,

    @Param(
        meaning = "step in depth, a tenth of a wavelength or less",
        from = "0.5 mm",
        to = "50 mm")
    Length depthStep,

    @Param(meaning = "greatest depth", from = "10 mm", to = "5 m")
    Length depth,

    @Param(
        meaning = "greatest angle from the vertical, 30 to 60 degrees as a rule",
        from = "5 deg",
        to = "80 deg",
        doubt = "10 deg")
    Angle aperture,

    @Param(meaning = "what to do to the phase") Phase phase)
    implements Operation<Section> {

  /** Stacks within 45 degrees and leaves the phase as recorded. */
  public DiffractionStack(
      Step<Scan> scan, Step<VelocityEstimate> velocity, Length depthStep, Length depth) {
    this(scan, velocity, depthStep, depth, new Angle(45), Phase.AS_RECORDED);
  }

  @Override
  public Section apply(Work work) {
    Scan in = scan.get();
    double surface = in.requireSurface().value().value();
    double v = velocity.get().velocity().value().value();
    float[][] traces = prepared(in);
    double[] x = in.track().distances();
    int depths = (int) Math.round(depth.value() / depthStep.value());
    if (depths < 1) {
      throw new IllegalArgumentException("imaging.diffraction-stack: depth = " + depth
          + " holds no step of " + depthStep + "; expected a depth of one step or more");
    }
    double half = in.antenna().separation().value() / 2;
    double first = in.axis().start().value();
    double dt = in.interval().value();
    double tan = StrictMath.tan(aperture.si());
    float[][] image = new float[x.length][];
    work.forEach(x.length, i -> {
      float[] column = new float[depths];
      for (int j = 0; j < depths; j++) {
        double z = (j + 1) * depthStep.value();
        column[j] = (float) mean(traces, x, i, z, tan * z, half, v, surface - first, dt);
      }
      image[i] = column;
    });
    return new Section(
        in.pass(),
        in.channel(),
        in.track(),
        depthStep,
        depthStep,
        depths,
        Samples.ofTraces(image),
        "mean along the diffraction curve, unit of the scan");
  }

  private static double mean(
      float[][] traces,
      double[] x,
      int at,
      double z,
      double reach,
      double half,
      double v,
      double shift,
      double dt) {
    double sum = 0;
    double weights = 0;
    int from = at;
    while (from > 0 && x[at] - x[from - 1] <= reach) {
      from--;
    }
    for (int k = from; k < x.length && x[k] - x[at] <= reach; k++) {
      double dx = x[k] - x[at];
      double left = dx - half;
      double right = dx + half;
      double path = Math.sqrt(left * left + z * z) + Math.sqrt(right * right + z * z);
      double index = (path / v + shift) / dt;
      int s = (int) Math.floor(index);
      if (s < 0 || s + 1 >= traces[k].length) {
        continue;
      }
      double f = index - s;
      double weight = z / Math.sqrt(dx * dx + z * z);
      sum += weight * (traces[k][s] + f * (traces[k][s + 1] - traces[k][s]));
      weights += weight;
    }
    return weights == 0 ? Double.NaN : sum / weights;
  }

  private float[][] prepared(Scan in) {
    float[][] traces = in.toTraces();
    if (phase == Phase.AS_RECORDED) {
      return traces;
    }
    for (int i = 0; i < traces.length; i++) {
      traces[i] = halfDerivative(traces[i]);
    }
    return traces;
  }

  /** Multiplies the spectrum by {@code sqrt(w) exp(-j pi / 4)}, padded to twice the length. */
  static float[] halfDerivative(float[] trace) {
    Fft fft = Fft.of(Fft.fastLength(2 * trace.length));
    double[] padded = new double[fft.length()];
    for (int i = 0; i < trace.length; i++) {
      padded[i] = trace[i];
    }
    double[] spectrum = fft.forwardReal(padded);
    double c = Math.sqrt(0.5);
    for (int k = 0; k < fft.bins(); k++) {
      double root = Math.sqrt(2 * StrictMath.PI * k / fft.length());
      double re = spectrum[2 * k];
      double im = spectrum[2 * k + 1];
      spectrum[2 * k] = root * c * (re + im);
      spectrum[2 * k + 1] = root * c * (im - re);
    }
    double[] all = fft.inverseReal(spectrum);
    float[] out = new float[trace.length];
    for (int i = 0; i < out.length; i++) {
      out[i] = (float) all[i];
    }
    return out;
  }
}
