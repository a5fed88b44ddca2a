package org.slabnote.forward;

/** A complex spectrum that is summed up, frequency by frequency. */
final class Spectrum {
  final double[] re;
  final double[] im;

  Spectrum(int n) {
    re = new double[n];
    im = new double[n];
  }

  void add(int k, double addRe, double addIm) {
    re[k] += addRe;
    im[k] += addIm;
  }

  /** Adds another spectrum. */
  void add(Spectrum other) {
    for (int k = 0; k < re.length; k++) {
      re[k] += other.re[k];
      im[k] += other.im[k];
    }
  }

  /** Multiplies frequency {@code k} by a complex number. */
  void times(int k, double mRe, double mIm) {
    double r = re[k] * mRe - im[k] * mIm;
    im[k] = re[k] * mIm + im[k] * mRe;
    re[k] = r;
  }

  /** Multiplies by another spectrum. */
  void times(Spectrum other) {
    for (int k = 0; k < re.length; k++) {
      times(k, other.re[k], other.im[k]);
    }
  }
}
