package org.slabnote.forward;

import org.slabnote.api.TimeAxis;
import org.slabnote.methods.signal.Fft;
import org.slabnote.methods.signal.Wavelets;

/** The frequencies at which a trace is summed up, and the way back to time. */
final class Grid {
  /** Share of the pulse's greatest amplitude below which a frequency is left out. */
  private static final double FLOOR = 1e-3;
  /** Room behind the window, ns, so that what comes late does not wrap round to its start. */
  private static final double ROOM = 6;

  final double[] frequencies;
  private final double[] pulse;
  private final int first;
  private final Fft fft;
  private final TimeAxis axis;
  private final double scale;

  /** Peak frequency in GHz. */
  Grid(TimeAxis axis, double peak) {
    this.axis = axis;
    double dt = axis.interval().value();
    fft = Fft.of(Fft.fastLength(axis.count() + (int) Math.ceil(ROOM / dt)));
    int n = fft.length();
    double top = Wavelets.rickerSpectrum(peak, peak);
    int low = -1;
    int high = 0;
    for (int k = 1; k < n / 2; k++) {
      if (Wavelets.rickerSpectrum(k / (n * dt), peak) > FLOOR * top) {
        low = low < 0 ? k : low;
        high = k;
      }
    }
    if (low < 0) {
      throw new IllegalArgumentException("pulse of " + peak + " GHz sampled every " + dt
          + " ns: no frequency fits; expected an interval well below half a period");
    }
    first = low;
    frequencies = new double[high - low + 1];
    pulse = new double[frequencies.length];
    for (int k = 0; k < frequencies.length; k++) {
      frequencies[k] = (first + k) / (n * dt);
      // a line source of strength I radiates -w mu I / 4 times the tabulated field
      pulse[k] = Wavelets.rickerSpectrum(frequencies[k], peak) * frequencies[k] / peak;
    }
    scale = 1 / dt;
  }

  int size() {
    return frequencies.length;
  }

  /** Returns the trace of a response, with the pulse's centre at {@code zero}. */
  double[] trace(Spectrum response, double zero) {
    double[] packed = new double[2 * fft.bins()];
    for (int k = 0; k < frequencies.length; k++) {
      double angle = -2 * StrictMath.PI * frequencies[k] * (zero - axis.start().value());
      double c = StrictMath.cos(angle) * pulse[k] * scale;
      double s = StrictMath.sin(angle) * pulse[k] * scale;
      packed[2 * (first + k)] = response.re[k] * c - response.im[k] * s;
      packed[2 * (first + k) + 1] = response.re[k] * s + response.im[k] * c;
    }
    double[] all = fft.inverseReal(packed);
    return java.util.Arrays.copyOf(all, axis.count());
  }
}
