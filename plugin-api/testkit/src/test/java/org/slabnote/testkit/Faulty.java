package org.slabnote.testkit;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.slabnote.api.Amplitudes;
import org.slabnote.api.CancelledException;
import org.slabnote.api.Filter;
import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Param;
import org.slabnote.api.Purpose;
import org.slabnote.api.Scan;
import org.slabnote.api.Step;
import org.slabnote.api.Treatment;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Length;
import org.slabnote.api.quantity.TimeSpan;

/** Operations that each break a rule. */
final class Faulty {
  private Faulty() {}

  /** Equal to itself only. */
  record Loose(double number) {
    @Override
    public boolean equals(@Nullable Object other) {
      return this == other;
    }

    @Override
    public int hashCode() {
      return 1;
    }
  }

  /** Does not copy its list. */
  record Box(List<Double> numbers) {}

  @Op(id = "faulty.nameless", revision = 1, purpose = Purpose.TABLE)
  record NoMeaning(Length window) implements Operation<Double> {
    @Override
    public Double apply(Work work) {
      work.progress(1);
      return 1.0;
    }
  }

  @Op(id = "Faulty", revision = 1, purpose = Purpose.TABLE)
  record WrongId() implements Operation<Double> {
    @Override
    public Double apply(Work work) {
      work.progress(1);
      return 1.0;
    }
  }

  @Op(id = "faulty.other-kind", revision = 1, purpose = Purpose.TABLE)
  record OtherKind(
      @Param(meaning = "a length", from = "0 ns") Length window) implements Operation<Double> {
    @Override
    public Double apply(Work work) {
      work.progress(1);
      return 1.0;
    }
  }

  @Op(id = "faulty.loose", revision = 1, purpose = Purpose.TABLE)
  record LooseParameter(@Param(meaning = "any") Loose loose) implements Operation<Double> {
    @Override
    public Double apply(Work work) {
      work.progress(1);
      return 1.0;
    }
  }

  @Op(id = "faulty.clamped", revision = 1, purpose = Purpose.TABLE)
  record Clamped(
      @Param(meaning = "a window", from = "1 ns", to = "2 ns")
      TimeSpan window) implements Operation<Double> {
    Clamped {
      window = new TimeSpan(Math.min(2, Math.max(1, window.value())));
    }

    @Override
    public Double apply(Work work) {
      work.progress(1);
      return 1.0;
    }
  }

  @Op(id = "faulty.curt", revision = 1, purpose = Purpose.TABLE)
  record Curt(
      @Param(meaning = "a window", from = "1 ns", to = "2 ns")
      TimeSpan window) implements Operation<Double> {
    Curt {
      if (window.value() > 2) {
        throw new IllegalArgumentException("window too large");
      }
    }

    @Override
    public Double apply(Work work) {
      work.progress(1);
      return 1.0;
    }
  }

  @Op(id = "faulty.counter", revision = 1, purpose = Purpose.TABLE)
  record Counter() implements Operation<Integer> {
    private static int runs;

    @Override
    public Integer apply(Work work) {
      work.progress(1);
      return ++runs;
    }
  }

  @Op(id = "faulty.thread-name", revision = 1, purpose = Purpose.TABLE)
  record ThreadName() implements Operation<String> {
    @Override
    public String apply(Work work) {
      work.progress(1);
      return Thread.currentThread().getName();
    }
  }

  @Op(id = "faulty.order", revision = 1, purpose = Purpose.TABLE)
  record OrderOfItems() implements Operation<List<Integer>> {
    @Override
    public List<Integer> apply(Work work) {
      List<Integer> order = Collections.synchronizedList(new ArrayList<>());
      work.forEach(50, order::add);
      return List.copyOf(order);
    }
  }

  @Op(id = "faulty.locale", revision = 1, purpose = Purpose.TABLE)
  record LocalNumbers() implements Operation<String> {
    @Override
    public String apply(Work work) {
      work.progress(1);
      return String.format("%.1f", 1.5);
    }
  }

  @Op(id = "faulty.spoiler", revision = 1, purpose = Purpose.TABLE)
  record Spoiler(Step<Box> box) implements Operation<Double> {
    @Override
    public Double apply(Work work) {
      work.progress(1);
      box.get().numbers().set(0, 7.0);
      return 1.0;
    }
  }

  @Op(id = "faulty.loose-result", revision = 1, purpose = Purpose.TABLE)
  record LooseResult() implements Operation<Loose> {
    @Override
    public Loose apply(Work work) {
      work.progress(1);
      return new Loose(1);
    }
  }

  @Op(id = "faulty.silent", revision = 1, purpose = Purpose.TABLE)
  record Silent() implements Operation<Double> {
    @Override
    public Double apply(Work work) {
      return 1.0;
    }
  }

  @Op(id = "faulty.falling", revision = 1, purpose = Purpose.TABLE)
  record Falling() implements Operation<Double> {
    @Override
    public Double apply(Work work) {
      work.progress(0.5);
      work.progress(0.4);
      return 1.0;
    }
  }

  @Op(id = "faulty.deaf", revision = 1, purpose = Purpose.TABLE)
  record SwallowsCancel() implements Operation<Double> {
    @Override
    public Double apply(Work work) {
      try {
        work.forEach(3, i -> {});
      } catch (CancelledException e) {
        return 0.0;
      }
      return 1.0;
    }
  }

  @Op(id = "faulty.wrapping", revision = 1, purpose = Purpose.TABLE)
  record WrapsCancel() implements Operation<Double> {
    @Override
    public Double apply(Work work) {
      try {
        work.forEach(3, i -> {});
      } catch (CancelledException e) {
        throw new IllegalStateException("stopped", e);
      }
      return 1.0;
    }
  }

  @Op(id = "faulty.slow", revision = 1, purpose = Purpose.TABLE)
  record NeverLooks() implements Operation<Double> {
    @Override
    public Double apply(Work work) {
      work.progress(1);
      try {
        // Only while its cancel is tried: the other rules need not wait for it.
        boolean tried = StackWalker.getInstance()
            .walk(frames -> frames.anyMatch(f -> f.getMethodName().equals("cancel")));
        Thread.sleep(tried ? 600 : 0);
      } catch (InterruptedException e) {
        Thread.currentThread().interrupt();
      }
      return 1.0;
    }
  }

  @Op(id = "faulty.second-trace", revision = 1, purpose = Purpose.TABLE)
  record NeedsASecondTrace(Step<Scan> scan) implements Operation<Double> {
    @Override
    public Double apply(Work work) {
      work.progress(1);
      return (double) scan.get().toTraces()[1][0];
    }
  }

  @Op(id = "faulty.curt-refusal", revision = 1, purpose = Purpose.TABLE)
  record RefusesCurtly(Step<Scan> scan) implements Operation<Double> {
    @Override
    public Double apply(Work work) {
      work.progress(1);
      if (scan.get().axis().count() < 2) {
        throw new IllegalArgumentException("too short");
      }
      return 1.0;
    }
  }

  /** A way to spoil a scan. */
  enum Way {
    NULL_AMPLITUDES,
    UNCHANGED_DOUBLES,
    SAME_LINEAR_SQUARES,
    SAME_LINEAR_MEAN_TRACE,
    SAME_LINEAR_BY_PLACE,
    WRITES_HISTORY,
    DELAYS,
    NOT_LINEAR,
    CLIPS,
    TURNS,
    MIXES
  }

  @Op(id = "faulty.filter", revision = 1, purpose = Purpose.FILTER)
  record FaultyFilter(@Param(meaning = "which fault") Way way) implements Filter<Scan> {

    @Override
    @SuppressWarnings("NullAway") // the fault itself
    public Amplitudes amplitudes() {
      return switch (way) {
        case NULL_AMPLITUDES -> null;
        case UNCHANGED_DOUBLES -> Amplitudes.UNCHANGED;
        case SAME_LINEAR_SQUARES, SAME_LINEAR_MEAN_TRACE, SAME_LINEAR_BY_PLACE ->
          Amplitudes.SAME_LINEAR;
        default -> Amplitudes.ALTERED;
      };
    }

    @Override
    public Set<Claim> claims() {
      return switch (way) {
        case DELAYS -> EnumSet.of(Claim.ZERO_DELAY);
        case NOT_LINEAR -> EnumSet.of(Claim.LINEAR);
        case CLIPS -> EnumSet.of(Claim.SCALE_FREE);
        case TURNS -> EnumSet.of(Claim.KEEPS_POLARITY);
        case MIXES -> EnumSet.of(Claim.TRACE_BY_TRACE);
        default -> EnumSet.noneOf(Claim.class);
      };
    }

    @Override
    public Scan apply(Scan input, Work work) {
      work.progress(1);
      float[] x = input.samples().toArray();
      int count = input.axis().count();
      float[] y = x.clone();
      for (int i = 0; i < x.length; i++) {
        int place = i / count;
        y[i] = switch (way) {
          case UNCHANGED_DOUBLES -> 2 * x[i];
          case SAME_LINEAR_SQUARES, NOT_LINEAR -> x[i] * x[i];
          case SAME_LINEAR_MEAN_TRACE ->
            x[i] - (x[i % count] + x[x.length - count + i % count]) / 2;
          case SAME_LINEAR_BY_PLACE -> x[i] * (1 + place);
          case DELAYS -> i % count < 3 ? 0 : x[i - 3];
          case CLIPS -> Math.min(0.5f, x[i]);
          case TURNS -> -x[i];
          case MIXES -> place == 0 ? x[i] : x[i] - x[i - count];
          default -> x[i];
        };
      }
      Scan out = input.withSamples(org.slabnote.api.Samples.of(y));
      return way == Way.WRITES_HISTORY
          ? out.treated(new Treatment("faulty.filter", "", Amplitudes.ALTERED))
          : out;
    }
  }

  /** Keeps every rule there is. */
  @Op(id = "sound.halved", revision = 1, purpose = Purpose.FILTER)
  record Halved(
      @Param(meaning = "a share", from = "0", to = "1") double share) implements Filter<Scan> {
    @Override
    public Amplitudes amplitudes() {
      return Amplitudes.SAME_LINEAR;
    }

    @Override
    public Set<Claim> claims() {
      return EnumSet.allOf(Claim.class);
    }

    @Override
    public Scan apply(Scan input, Work work) {
      return input.eachTrace(work, trace -> {
        float[] out = trace.clone();
        for (int j = 0; j < out.length; j++) {
          out[j] = (float) (trace[j] * share);
        }
        return out;
      });
    }
  }

  static Box box() {
    return new Box(new ArrayList<>(Arrays.asList(1.0, 2.0)));
  }
}
