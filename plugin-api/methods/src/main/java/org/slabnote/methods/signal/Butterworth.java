package org.slabnote.methods.signal;

import java.util.ArrayList;
import java.util.List;

/**
 * Butterworth filters as second-order sections, causal or zero-phase.
 *
 * <p>Design: analogue prototype of the given order with poles {@code exp(j pi (2 k + n + 1) / (2 n))},
 * moved to the wanted band and taken to samples by the bilinear transform with corrected corners. A
 * band-pass or band-stop of order n has 2 n poles. One causal pass has the modulus 1 / sqrt(2) at its
 * corners; {@link #zeroPhase}, which runs forward and backward, has 1 / 2 there.
 *
 * <p>{@code zeroPhase} extends both ends oddly ({@code 2 x_end - x}) by 3 (2 sections + 1) samples
 * (fewer by 3 for a first-order section) and starts each run from the steady state of its first value,
 * so a constant passes without a transient. Sections, not one polynomial quotient: the latter loses
 * digits.
 *
 * <p>Source: Oppenheim and Schafer, Discrete-Time Signal Processing, ch. 7; conventions as SciPy's
 * butter and sosfiltfilt. Check: SignalReferenceTest (SciPy), to 1e-9.
 *
 * @since 0.1
 */
public final class Butterworth {

  /** One section: {@code y = (b0 + b1 z^-1 + b2 z^-2) / (1 + a1 z^-1 + a2 z^-2) x}. */
  record Section(double b0, double b1, double b2, double a1, double a2) {
    double atZeroFrequency() {
      return (b0 + b1 + b2) / (1 + a1 + a2);
    }
  }

  private final List<Section> sections;

  private Butterworth(List<Section> sections) {
    this.sections = List.copyOf(sections);
  }

  /**
   * Low-pass.
   *
   * @param order number of poles, 1 to 12
   * @param corner corner frequency, GHz, above 0, below Nyquist
   * @param interval sample interval, ns
   * @return the filter
   * @throws IllegalArgumentException if an argument is outside its range
   */
  public static Butterworth lowPass(int order, double corner, double interval) {
    double w = warped(order, corner, interval);
    List<double[]> poles = new ArrayList<>();
    for (double[] p : prototype(order)) {
      poles.add(new double[] {p[0] * w, p[1] * w});
    }
    return build(poles, new double[] {1, 2, 1}, new double[] {1, 1, 0}, 1, 0);
  }

  /**
   * High-pass.
   *
   * @param order number of poles, 1 to 12
   * @param corner corner frequency, GHz, above 0, below Nyquist
   * @param interval sample interval, ns
   * @return the filter
   * @throws IllegalArgumentException if an argument is outside its range
   */
  public static Butterworth highPass(int order, double corner, double interval) {
    double w = warped(order, corner, interval);
    List<double[]> poles = new ArrayList<>();
    for (double[] p : prototype(order)) {
      double norm = p[0] * p[0] + p[1] * p[1];
      poles.add(new double[] {w * p[0] / norm, -w * p[1] / norm});
    }
    return build(poles, new double[] {1, -2, 1}, new double[] {1, -1, 0}, -1, 0);
  }

  /**
   * Band-pass.
   *
   * @param order order of the prototype, 1 to 12; the filter has twice as many poles
   * @param low lower corner, GHz, above 0
   * @param high upper corner, GHz, above low, below Nyquist
   * @param interval sample interval, ns
   * @return the filter
   * @throws IllegalArgumentException if an argument is outside its range
   */
  public static Butterworth bandPass(int order, double low, double high, double interval) {
    double w1 = warped(order, low, interval);
    double w2 = warpedAbove(low, high, interval);
    List<double[]> poles = new ArrayList<>();
    for (double[] p : prototype(order)) {
      split(poles, p[0] * (w2 - w1) / 2, p[1] * (w2 - w1) / 2, w1 * w2);
    }
    double centre = 2 * StrictMath.atan(Math.sqrt(w1 * w2));
    return build(poles, new double[] {1, 0, -1}, new double[] {1, 0, -1}, 0, centre);
  }

  /**
   * Band-stop (notch).
   *
   * @param order order of the prototype, 1 to 12; the filter has twice as many poles
   * @param low lower corner, GHz, above 0
   * @param high upper corner, GHz, above low, below Nyquist
   * @param interval sample interval, ns
   * @return the filter
   * @throws IllegalArgumentException if an argument is outside its range
   */
  public static Butterworth bandStop(int order, double low, double high, double interval) {
    double w1 = warped(order, low, interval);
    double w2 = warpedAbove(low, high, interval);
    List<double[]> poles = new ArrayList<>();
    for (double[] p : prototype(order)) {
      double norm = p[0] * p[0] + p[1] * p[1];
      double half = (w2 - w1) / 2;
      split(poles, half * p[0] / norm, -half * p[1] / norm, w1 * w2);
    }
    double cosine = (1 - w1 * w2) / (1 + w1 * w2);
    double[] zeros = {1, -2 * cosine, 1};
    return build(poles, zeros, zeros, 1, 0);
  }

  /**
   * Filters once, forward, from rest.
   *
   * @param trace samples
   * @return new array of as many samples
   */
  public double[] causal(double[] trace) {
    double[] out = trace.clone();
    for (Section section : sections) {
      run(section, out, 0, 0);
    }
    return out;
  }

  /**
   * Filters forward and backward, so that nothing is delayed.
   *
   * @param trace samples, more than {@link #extension()}
   * @return new array of as many samples
   * @throws IllegalArgumentException if the trace is too short
   */
  public double[] zeroPhase(double[] trace) {
    int n = trace.length;
    int pad = extension();
    if (n <= pad) {
      throw new IllegalArgumentException(
          "Butterworth filter: trace of " + n + " samples; expected more than " + pad
              + ", the odd extension at each end. Lower the order or use longer traces");
    }
    double[] wide = new double[n + 2 * pad];
    System.arraycopy(trace, 0, wide, pad, n);
    for (int i = 1; i <= pad; i++) {
      wide[pad - i] = 2 * trace[0] - trace[i];
      wide[pad + n - 1 + i] = 2 * trace[n - 1] - trace[n - 1 - i];
    }
    runFromSteadyState(wide);
    reverse(wide);
    runFromSteadyState(wide);
    reverse(wide);
    double[] out = new double[n];
    System.arraycopy(wide, pad, out, 0, n);
    return out;
  }

  /**
   * Samples by which {@link #zeroPhase} extends each end.
   *
   * @return samples
   */
  public int extension() {
    int taps = 2 * sections.size() + 1;
    for (Section section : sections) {
      if (section.b2 == 0 && section.a2 == 0) {
        taps--;
      }
    }
    return 3 * taps;
  }

  /**
   * Modulus and phase of one causal pass.
   *
   * @param frequency frequency, GHz
   * @param interval sample interval the filter was made for, ns
   * @return real and imaginary part
   */
  public double[] response(double frequency, double interval) {
    double w = 2 * Math.PI * frequency * interval;
    return response(sections, w);
  }

  List<Section> sections() {
    return sections;
  }

  private void runFromSteadyState(double[] x) {
    double start = x[0];
    for (Section s : sections) {
      double gain = s.atZeroFrequency();
      double second = s.b2 - s.a2 * gain;
      double first = s.b1 - s.a1 * gain + second;
      run(s, x, first * start, second * start);
      start *= gain;
    }
  }

  /** Transposed direct form II, in place. */
  private static void run(Section s, double[] x, double first, double second) {
    double z1 = first;
    double z2 = second;
    for (int i = 0; i < x.length; i++) {
      double in = x[i];
      double out = s.b0 * in + z1;
      z1 = s.b1 * in - s.a1 * out + z2;
      z2 = s.b2 * in - s.a2 * out;
      x[i] = out;
    }
  }

  private static void reverse(double[] x) {
    for (int i = 0, j = x.length - 1; i < j; i++, j--) {
      double held = x[i];
      x[i] = x[j];
      x[j] = held;
    }
  }

  private static double[] response(List<Section> sections, double w) {
    double c1 = StrictMath.cos(w);
    double s1 = -StrictMath.sin(w);
    double c2 = StrictMath.cos(2 * w);
    double s2 = -StrictMath.sin(2 * w);
    double re = 1;
    double im = 0;
    for (Section s : sections) {
      double nr = s.b0 + s.b1 * c1 + s.b2 * c2;
      double ni = s.b1 * s1 + s.b2 * s2;
      double dr = 1 + s.a1 * c1 + s.a2 * c2;
      double di = s.a1 * s1 + s.a2 * s2;
      double norm = dr * dr + di * di;
      double qr = (nr * dr + ni * di) / norm;
      double qi = (ni * dr - nr * di) / norm;
      double next = re * qr - im * qi;
      im = re * qi + im * qr;
      re = next;
    }
    return new double[] {re, im};
  }

  /** Poles of the prototype with imaginary part 0 or above (the others are their conjugates). */
  private static List<double[]> prototype(int order) {
    List<double[]> poles = new ArrayList<>();
    for (int k = 0; k < (order + 1) / 2; k++) {
      if (2 * k + 1 == order) {
        poles.add(new double[] {-1, 0});
      } else {
        double angle = Math.PI * (2 * k + 1) / (2.0 * order);
        poles.add(new double[] {-StrictMath.sin(angle), StrictMath.cos(angle)});
      }
    }
    return poles;
  }

  /** Poles {@code h +- sqrt(h^2 - w)}; of conjugate pairs the one in the upper half plane. */
  private static void split(List<double[]> poles, double hr, double hi, double w) {
    double dr = hr * hr - hi * hi - w;
    double di = 2 * hr * hi;
    if (hi == 0) {
      if (dr < 0) {
        poles.add(new double[] {hr, Math.sqrt(-dr)});
      } else {
        poles.add(new double[] {hr + Math.sqrt(dr), 0});
        poles.add(new double[] {hr - Math.sqrt(dr), 0});
      }
      return;
    }
    double modulus = Math.sqrt(Math.sqrt(dr * dr + di * di));
    double half = StrictMath.atan2(di, dr) / 2;
    double rr = modulus * StrictMath.cos(half);
    double ri = modulus * StrictMath.sin(half);
    poles.add(new double[] {hr + rr, StrictMath.abs(hi + ri)});
    poles.add(new double[] {hr - rr, StrictMath.abs(hi - ri)});
  }

  /**
   * Sections from analogue poles; the gain is 1 at {@code z = end}, or at the angle {@code w} where end
   * is 0.
   */
  private static Butterworth build(
      List<double[]> poles, double[] second, double[] first, int end, double w) {
    List<Section> sections = new ArrayList<>();
    List<Double> real = new ArrayList<>();
    for (double[] p : poles) {
      if (p[1] == 0) {
        real.add((1 + p[0]) / (1 - p[0]));
      } else {
        double norm = (1 - p[0]) * (1 - p[0]) + p[1] * p[1];
        double re = (1 - p[0] * p[0] - p[1] * p[1]) / norm;
        double im = 2 * p[1] / norm;
        sections.add(scaled(second, -2 * re, re * re + im * im, end, w));
      }
    }
    for (int i = 0; i < real.size(); i += 2) {
      double a = real.get(i);
      if (i + 1 < real.size()) {
        double b = real.get(i + 1);
        sections.add(scaled(second, -(a + b), a * b, end, w));
      } else {
        sections.add(scaled(first, -a, 0, end, w));
      }
    }
    // poles far from the unit circle first, as is usual, so that no section overflows the next
    sections.sort((x, y) -> Double.compare(x.a2, y.a2));
    return new Butterworth(sections);
  }

  private static Section scaled(double[] b, double a1, double a2, int end, double w) {
    double gain;
    if (end == 0) {
      Section raw = new Section(b[0], b[1], b[2], a1, a2);
      double[] r = response(List.of(raw), w);
      gain = Math.sqrt(r[0] * r[0] + r[1] * r[1]);
    } else {
      gain = (b[0] + end * b[1] + b[2]) / (1 + end * a1 + a2);
    }
    return new Section(b[0] / gain, b[1] / gain, b[2] / gain, a1, a2);
  }

  /** Analogue corner {@code tan(pi f dt)}, for the bilinear transform s = (z - 1) / (z + 1). */
  private static double warped(int order, double corner, double interval) {
    if (order < 1 || order > 12) {
      throw new IllegalArgumentException(
          "Butterworth filter: order = " + order + "; expected 1 to 12");
    }
    if (!(interval > 0) || Double.isInfinite(interval)) {
      throw new IllegalArgumentException(
          "Butterworth filter: sample interval = " + interval + " ns; expected above 0");
    }
    if (!(corner > 0 && corner * interval < 0.5)) {
      throw new IllegalArgumentException("Butterworth filter: corner = " + corner
          + " GHz; expected above 0 and below Nyquist, " + 0.5 / interval + " GHz");
    }
    return StrictMath.tan(Math.PI * corner * interval);
  }

  private static double warpedAbove(double low, double high, double interval) {
    if (!(high > low)) {
      throw new IllegalArgumentException("Butterworth filter: upper corner = " + high
          + " GHz; expected above the lower, " + low + " GHz");
    }
    return warped(1, high, interval);
  }
}
