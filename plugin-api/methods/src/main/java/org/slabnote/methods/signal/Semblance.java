package org.slabnote.methods.signal;

import org.apache.commons.math3.distribution.FDistribution;

/**
 * Likeness of traces along a travel-time curve.
 *
 * <p>{@code S = sum over the window of (sum over traces of a)^2 / (N sum over both of a^2)}: 1 where all N
 * traces are alike, on average 1 / N for noise that they do not share. A trace whose window leaves the
 * record is left out and N counts the others.
 *
 * <p>Edges: fewer than 2 traces, or no energy, give 0. Amplitude changes along the curve lower S; a common
 * factor does not matter.
 *
 * <p>Source: Taner and Koehler 1969, Geophysics 34(6), 859-881. Check: SemblanceTest.
 *
 * @param value semblance, 0 to 1
 * @param stack mean of the traces at the window's centre, in their unit
 * @param traces N, traces that took part
 * @since 0.1
 */
public record Semblance(double value, double stack, int traces) {

  /**
   * Semblance along a curve.
   *
   * @param section traces
   * @param first number of the trace that the first time belongs to, 0 or more
   * @param times time on each trace from there on, ns from sample 0; NaN leaves a trace out
   * @param interval sample interval, ns, above 0
   * @param halfWindow samples on each side of the curve, 0 or more
   * @return semblance
   * @throws IllegalArgumentException if the traces do not reach, or an argument is outside its range
   */
  public static Semblance along(
      float[][] section, int first, double[] times, double interval, int halfWindow) {
    if (first < 0 || first + times.length > section.length) {
      throw new IllegalArgumentException("semblance: traces " + first + " to "
          + (first + times.length - 1) + " of " + section.length + "; expected traces that exist");
    }
    if (!(interval > 0) || halfWindow < 0) {
      throw new IllegalArgumentException("semblance: interval = " + interval + " ns, half window = "
          + halfWindow + " samples; expected above 0, 0 or more");
    }
    double[] sums = new double[2 * halfWindow + 1];
    double energy = 0;
    int count = 0;
    for (int i = 0; i < times.length; i++) {
      float[] trace = section[first + i];
      double place = times[i] / interval;
      if (!(place - halfWindow >= 0 && place + halfWindow <= trace.length - 1)) {
        continue;
      }
      count++;
      for (int k = -halfWindow; k <= halfWindow; k++) {
        double a = Interpolation.linear(trace, place + k);
        sums[k + halfWindow] += a;
        energy += a * a;
      }
    }
    double together = 0;
    for (double sum : sums) {
      together += sum * sum;
    }
    double stack = count == 0 ? 0 : sums[halfWindow] / count;
    double value = count < 2 || energy == 0 ? 0 : together / (count * energy);
    return new Semblance(value, stack, count);
  }

  /**
   * Chance that pure noise reaches a semblance at one place.
   *
   * <p>For normal noise, independent from trace to trace, {@code (N - 1) S / (1 - S)} follows Fisher's F
   * with M and M (N - 1) degrees of freedom, M independent samples in the window (window length times
   * twice the bandwidth). Real clutter is shared between traces, so this is a lower bound.
   *
   * <p>Source: by the sum of squares about the mean; Douze and Laster 1979, Geophysics 44(12), 1999-2003.
   *
   * @param semblance S, 0 to 1
   * @param traces N, 2 or more
   * @param independent M, above 0
   * @return chance, 0 to 1
   * @throws IllegalArgumentException if an argument is outside its range
   */
  public static double chanceInNoise(double semblance, int traces, double independent) {
    if (!(semblance >= 0 && semblance <= 1) || traces < 2 || !(independent > 0)) {
      throw new IllegalArgumentException("semblance: S = " + semblance + ", N = " + traces
          + ", M = " + independent + "; expected 0 to 1, 2 or more, above 0");
    }
    if (semblance == 1) {
      return 0;
    }
    double f = (traces - 1) * semblance / (1 - semblance);
    return 1 - new FDistribution(independent, independent * (traces - 1)).cumulativeProbability(f);
  }
}
