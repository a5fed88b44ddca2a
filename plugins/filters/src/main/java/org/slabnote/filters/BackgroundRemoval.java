package org.slabnote.filters;

import java.util.EnumSet;
import java.util.Set;
import org.slabnote.api.Amplitudes;
import org.slabnote.api.Filter;
import org.slabnote.api.Op;
import org.slabnote.api.Param;
import org.slabnote.api.Purpose;
import org.slabnote.api.Samples;
import org.slabnote.api.Scan;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Length;

/**
 * Takes out what every trace has in common, the direct wave above all: the mean trace is subtracted.
 *
 * <p>Whole pass (window 0 m, or at least the length of the pass): {@code y[i][j] = x[i][j] - mean over
 * all traces k of x[k][j]}. Running: the mean is over the traces within half a window to each side
 * along the pass; at both ends over those that exist. Traces count alike, also where they lie
 * unevenly.
 *
 * <p><b>Risk:</b> flat things go with the direct wave: the slab's base, a flat void, a bar along the
 * pass. Look for planes before this step, never after it only. Beside a strong echo it leaves a faint
 * flat negative of it, {@code 1 / traces} as strong; a window under about three bar pitches eats the
 * bars as well.
 *
 * <p>Linear across traces: two orientations stay comparable only if both were treated alike. A pass
 * of one trace is refused: it would be its own background. Source: common practice, no source. Check:
 * by hand in FiltersByHandTest.
 *
 * @param window length along the pass over which the mean is taken; 0 m for the whole pass
 * @since 0.1
 */
@Op(id = "filters.background-removal", revision = 1, purpose = Purpose.FILTER)
public record BackgroundRemoval(
    @Param(
        meaning =
            "length of the mean along the pass, 1 m and three bar pitches at least; 0 m takes the whole pass",
        from = "0 m",
        to = "1000 m",
        doubt = "50 %")
    Length window)
    implements Filter<Scan> {

  @Override
  public Amplitudes amplitudes() {
    return Amplitudes.ACROSS_TRACES;
  }

  @Override
  public Set<Claim> claims() {
    return EnumSet.of(Claim.ZERO_DELAY, Claim.LINEAR, Claim.SCALE_FREE, Claim.KEEPS_POLARITY);
  }

  @Override
  public Scan apply(Scan input, Work work) {
    int traces = input.traces();
    if (traces < 2) {
      throw new IllegalArgumentException(
          "filters.background-removal: scan " + input.pass() + ", channel " + input.channel()
              + ": 1 trace; expected 2 or more, since a single trace is its own background."
              + " Leave this filter out for it");
    }
    double[] place = input.track().distances();
    boolean whole = window.value() == 0 || window.value() >= place[traces - 1];
    int[] from = new int[traces];
    int[] to = new int[traces];
    for (int i = 0; i < traces; i++) {
      from[i] = whole ? 0 : (i == 0 ? 0 : from[i - 1]);
      to[i] = whole ? traces : (i == 0 ? 0 : to[i - 1]);
      while (!whole && beyond(place[i] - place[from[i]])) {
        from[i]++;
      }
      while (to[i] < traces && !beyond(place[to[i]] - place[i])) {
        to[i]++;
      }
    }
    return input.withSamples(subtract(input, from, to, work));
  }

  /** A trace on the edge of the window counts; a nanometre's slack takes up rounding of places. */
  private boolean beyond(double distance) {
    return distance > window.value() / 2 + 1e-9;
  }

  private static Samples subtract(Scan input, int[] from, int[] to, Work work) {
    int traces = input.traces();
    int count = input.axis().count();
    float[] in = input.samples().toArray();
    float[] out = new float[in.length];
    work.forEach(count, j -> {
      double[] before = new double[traces + 1];
      for (int i = 0; i < traces; i++) {
        before[i + 1] = before[i] + in[i * count + j];
      }
      for (int i = 0; i < traces; i++) {
        double mean = (before[to[i]] - before[from[i]]) / (to[i] - from[i]);
        out[i * count + j] = (float) (in[i * count + j] - mean);
      }
    });
    return Samples.of(out);
  }
}
