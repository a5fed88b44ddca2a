package org.slabnote.methods.wave;

import org.apache.commons.math3.complex.Complex;

/**
 * What the two antenna orientations receive, frequency by frequency, for equal source strength.
 *
 * @since 0.1
 */
public final class PairSpectrum {
  private final double[] frequencies;
  private final double[] values; // across re, im, along re, im

  PairSpectrum(double[] frequencies) {
    this.frequencies = frequencies;
    this.values = new double[4 * frequencies.length];
  }

  /** Field per source strength from the Green's functions: times -w, w in rad/ns. */
  void set(int i, double[] pair) {
    double factor = -2 * Math.PI * frequencies[i];
    for (int k = 0; k < 4; k++) {
      values[4 * i + k] = factor * pair[k];
    }
  }

  /**
   * Number of frequencies.
   *
   * @return count
   */
  public int size() {
    return frequencies.length;
  }

  /**
   * A frequency.
   *
   * @param i number from 0
   * @return GHz
   */
  public double frequency(int i) {
    return frequencies[i];
  }

  /**
   * Field of the across orientation.
   *
   * @param i number of the frequency from 0
   * @return complex field per source strength, exp(+j w t)
   */
  public Complex across(int i) {
    return new Complex(values[4 * i], values[4 * i + 1]);
  }

  /**
   * Field of the along orientation.
   *
   * @param i number of the frequency from 0
   * @return complex field per source strength, exp(+j w t)
   */
  public Complex along(int i) {
    return new Complex(values[4 * i + 2], values[4 * i + 3]);
  }

  /** Real (part 0) or imaginary (1) part of across; of along with part 2 or 3. */
  double part(int i, int part) {
    return values[4 * i + part];
  }
}
