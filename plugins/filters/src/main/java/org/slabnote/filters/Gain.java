package org.slabnote.filters;

import java.util.EnumSet;
import java.util.Set;
import org.slabnote.api.Amplitudes;
import org.slabnote.api.Filter;
import org.slabnote.api.Op;
import org.slabnote.api.Param;
import org.slabnote.api.Purpose;
import org.slabnote.api.Scan;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Decibel;

/**
 * Makes up for spreading and for attenuation, so that deep echoes show beside shallow ones.
 *
 * <p>With t the time from the surface and P the period of the centre frequency: {@code y(t) = x(t)
 * min((t / P)^p 10^(a (t - P) / 20), 10^(most / 20))} from t = P on, and {@code y = x} before: the gain
 * begins at 1 and never falls. p is the power of {@link Spreading}, a the attenuation in dB for each
 * ns of two-way time. An attenuation of A dB/m one way is {@code a = A v}, v the velocity in m/ns (there
 * and back over v t / 2 each).
 *
 * <p>Amplitudes are altered: pair ratios and reflections cannot be taken afterwards. The gain also
 * raises noise, and moves the peak of a pulse a little later. Refused: a scan whose surface time is
 * not known. Source: spreading of rays and exponential loss, any text (Balanis, Advanced Engineering
 * Electromagnetics, ch. 4). Check: by hand in FiltersByHandTest.
 *
 * @param spreading the kind of reflector for which spreading is made up
 * @param attenuation loss in dB for each ns of two-way time
 * @param most greatest gain
 * @since 0.1
 */
@Op(id = "filters.gain", revision = 1, purpose = Purpose.FILTER)
public record Gain(
    @Param(meaning = "kind of reflector whose spreading is made up, LINE for bars")
    Spreading spreading,

    @Param(
        meaning = "attenuation made up for each ns of two-way time, 1 to 3 dB in ordinary concrete",
        from = "0 dB",
        to = "40 dB",
        doubt = "50 %")
    Decibel attenuation,

    @Param(
        meaning = "greatest gain; about the span from the strongest echo down to the noise",
        from = "0 dB",
        to = "120 dB",
        doubt = "6 dB")
    Decibel most)
    implements Filter<Scan> {

  /**
   * How the amplitude of an echo falls with its path, from a small antenna and without loss.
   *
   * @since 0.1
   */
  public enum Spreading {
    /** No spreading is made up. */
    NONE(0),
    /** A wide plane mirrors the source: amplitude falls as {@code 1 / t}. */
    PLANE(1),
    /** A long thin bar spreads what reaches it as a cylinder: amplitude falls as {@code t^(-3/2)}. */
    LINE(1.5),
    /** A small body spreads what reaches it as a sphere: amplitude falls as {@code 1 / t^2}. */
    POINT(2);

    private final double power;

    Spreading(double power) {
      this.power = power;
    }

    /** Returns the power of time with which the amplitude falls. */
    public double power() {
      return power;
    }
  }

  @Override
  public Amplitudes amplitudes() {
    return Amplitudes.ALTERED;
  }

  @Override
  public Set<Claim> claims() {
    return EnumSet.of(Claim.LINEAR, Claim.SCALE_FREE, Claim.KEEPS_POLARITY, Claim.TRACE_BY_TRACE);
  }

  @Override
  public Scan apply(Scan input, Work work) {
    double surface = input.requireSurface().value().value();
    double period = input.antenna().centre().period().value();
    double[] curve = new double[input.axis().count()];
    for (int j = 0; j < curve.length; j++) {
      curve[j] = factor(input.axis().at(j).value() - surface, period);
    }
    return input.eachTrace(work, trace -> times(trace, curve));
  }

  /** Returns the gain at a time from the surface, ns. */
  double factor(double time, double period) {
    if (time <= period) {
      return 1;
    }
    double factor = StrictMath.pow(time / period, spreading.power())
        * StrictMath.pow(10, attenuation.value() * (time - period) / 20);
    return Math.min(factor, most.amplitude());
  }

  private static float[] times(float[] trace, double[] curve) {
    float[] out = new float[trace.length];
    for (int j = 0; j < out.length; j++) {
      out[j] = (float) (trace[j] * curve[j]);
    }
    return out;
  }
}
