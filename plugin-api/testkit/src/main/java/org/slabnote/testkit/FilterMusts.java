package org.slabnote.testkit;

import java.util.Arrays;
import java.util.Objects;
import java.util.SplittableRandom;
import org.slabnote.api.Amplitudes;
import org.slabnote.api.Filter;
import org.slabnote.api.Samples;
import org.slabnote.api.Scan;

/** The physics that a filter of scans states or claims. */
final class FilterMusts {
  /** Samples are floats, 6e-8 relative: a chain of a few hundred sums stays well within this. */
  private static final double TOLERANCE = 2e-5;

  private final String id;
  private final Filter<Scan> filter;
  private final Scan input;

  @SuppressWarnings("unchecked")
  FilterMusts(Subject subject) {
    id = subject.id();
    filter = (Filter<Scan>) subject.record();
    input = (Scan) Objects.requireNonNull(subject.input(), "a filter has an input");
  }

  static void amplitudesStated(Subject subject) {
    if (((Filter<?>) subject.record()).amplitudes() == null) {
      throw new AssertionError(
          subject.id() + ": amplitudes() is null; expected what it does to amplitudes."
              + " Where in doubt: ALTERED");
    }
  }

  void amplitudesKept() {
    Amplitudes stated = filter.amplitudes();
    if (stated == Amplitudes.UNCHANGED) {
      float[] before = input.samples().toArray();
      float[] after = apply(input).samples().toArray();
      Arrays.sort(before);
      Arrays.sort(after);
      if (!Arrays.equals(before, after)) {
        throw new AssertionError(id + ": states UNCHANGED, but its samples have other values");
      }
    }
    if (stated == Amplitudes.SAME_LINEAR || stated == Amplitudes.ACROSS_TRACES) {
      linear();
    }
    if (stated == Amplitudes.SAME_LINEAR) {
      traceByTrace();
      sameForEachTrace();
    }
  }

  private void sameForEachTrace() {
    float[] one = input.trace(input.traces() / 2);
    float[][] all = new float[input.traces()][];
    Arrays.fill(all, one);
    Scan result = apply(input.withSamples(Samples.ofTraces(all)));
    for (int i = 1; i < all.length; i++) {
      if (!Arrays.equals(result.trace(i), result.trace(0))) {
        throw new AssertionError(
            id + ": states SAME_LINEAR, but treats trace " + (i + 1) + " otherwise than trace 1");
      }
    }
  }

  void historyLeft() {
    Scan result = apply(input);
    boolean left = result.pass().equals(input.pass())
        && result.channel().equals(input.channel())
        && result.antenna().equals(input.antenna())
        && result.balance().equals(input.balance())
        && result.history().equals(input.history());
    if (!left) {
      throw new AssertionError(
          id + ": pass, channel, antenna, balance or history of the scan changed; expected them"
              + " left alone (the engine adds the step to the history). Use withSamples");
    }
  }

  void linear() {
    float[] a = input.samples().toArray();
    float[] b = noise(a);
    float[] both = new float[a.length];
    for (int i = 0; i < a.length; i++) {
      both[i] = a[i] + b[i];
    }
    float[] fa = filtered(a);
    float[] fb = filtered(b);
    float[] fboth = filtered(both);
    double scale = Math.max(greatest(both), Math.max(greatest(fa), greatest(fb)));
    for (int i = 0; i < fboth.length; i++) {
      double sum = (double) fa[i] + fb[i];
      if (Math.abs(fboth[i] - sum) > TOLERANCE * scale) {
        throw new AssertionError(id + ": not linear: at sample " + i + " the filtered sum is "
            + fboth[i] + ", the sum of the filtered " + sum);
      }
    }
  }

  void scaleFree() {
    float[] a = input.samples().toArray();
    float[] twice = new float[a.length];
    for (int i = 0; i < a.length; i++) {
      twice[i] = 2 * a[i];
    }
    float[] fa = filtered(a);
    float[] ftwice = filtered(twice);
    double scale = Math.max(greatest(a), greatest(fa));
    for (int i = 0; i < fa.length; i++) {
      if (Math.abs(ftwice[i] - 2.0 * fa[i]) > TOLERANCE * scale) {
        throw new AssertionError(id + ": not free of scale: at sample " + i
            + " twice the input gives " + ftwice[i] + "; expected " + 2.0 * fa[i]);
      }
    }
  }

  void zeroDelay() {
    float[] trace = pulseFiltered(1);
    int middle = trace.length / 2;
    double energy = 0;
    double moment = 0;
    int peak = 0;
    for (int j = 0; j < trace.length; j++) {
      double e = (double) trace[j] * trace[j];
      energy += e;
      moment += e * j;
      peak = Math.abs(trace[j]) > Math.abs(trace[peak]) ? j : peak;
    }
    double centre = energy == 0 ? Double.NaN : moment / energy;
    if (Math.abs(peak - middle) > 1 || !(Math.abs(centre - middle) <= 0.25)) {
      throw new AssertionError(id + ": a symmetric pulse at sample " + middle + " has its peak at "
          + peak + " and its centre at " + centre + " afterwards; expected it to stay");
    }
  }

  void keepsPolarity() {
    int middle = input.axis().count() / 2;
    for (int sign : new int[] {1, -1}) {
      float[] trace = pulseFiltered(sign);
      int peak = 0;
      for (int j = 0; j < trace.length; j++) {
        peak = Math.abs(trace[j]) > Math.abs(trace[peak]) ? j : peak;
      }
      if (Math.signum(trace[peak]) != sign) {
        throw new AssertionError(id + ": a pulse of sign " + sign + " at sample " + middle
            + " has its strongest sample " + trace[peak] + " afterwards; expected the same sign");
      }
    }
  }

  void traceByTrace() {
    int kept = input.traces() / 2;
    float[] all = input.samples().toArray();
    float[] others = noise(all);
    int count = input.axis().count();
    System.arraycopy(all, kept * count, others, kept * count, count);
    float[] before = apply(input).trace(kept);
    float[] after = apply(input.withSamples(Samples.of(others))).trace(kept);
    if (!Arrays.equals(before, after)) {
      throw new AssertionError(
          id + ": trace " + (kept + 1) + " comes out otherwise when the other traces change;"
              + " expected it to depend on itself only");
    }
  }

  /** A zero-phase Ricker pulse of the centre frequency, in the middle of the middle trace only. */
  private float[] pulseFiltered(int sign) {
    int count = input.axis().count();
    float[] samples = new float[input.samples().size()];
    int at = input.traces() / 2 * count;
    double frequency = input.antenna().centre().inGigahertz();
    for (int j = 0; j < count; j++) {
      double t = (j - count / 2) * input.interval().value();
      samples[at + j] = (float) (sign * InventedScan.ricker(t, frequency));
    }
    return apply(input.withSamples(Samples.of(samples))).trace(input.traces() / 2);
  }

  private Scan apply(Scan scan) {
    return filter.apply(scan, TestWork.serial());
  }

  private float[] filtered(float[] samples) {
    return apply(input.withSamples(Samples.of(samples))).samples().toArray();
  }

  private static double greatest(float[] values) {
    double most = 0;
    for (float v : values) {
      most = Math.max(most, Math.abs(v));
    }
    return most;
  }

  /** As many seeded random samples, of about the same size. */
  private static float[] noise(float[] like) {
    SplittableRandom random = new SplittableRandom(20);
    double size = greatest(like);
    float[] out = new float[like.length];
    for (int i = 0; i < out.length; i++) {
      out[i] = (float) ((random.nextDouble() - 0.5) * size);
    }
    return out;
  }
}
