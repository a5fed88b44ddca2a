package org.slabnote.worker.run;

import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.slabnote.api.Conclusion;
import org.slabnote.api.Doubles;
import org.slabnote.api.Events;
import org.slabnote.api.Operations;
import org.slabnote.api.Samples;
import org.slabnote.api.Table;
import org.slabnote.api.Targets;
import org.slabnote.api.Visibility;
import org.slabnote.worker.RunOutcome.Statistics;
import org.slabnote.worker.RunOutcome.ValueFact;

/** What an outcome tells of a value. */
final class ValueFacts {
  private static final int KEPT = 16;

  private ValueFacts() {}

  static ValueFact of(Object value, String digest, long size) {
    boolean told = size <= ValueFact.LARGE
        || value instanceof Table
        || value instanceof Targets
        || value instanceof Events
        || value instanceof Visibility
        || value instanceof Conclusion;
    return new ValueFact(
        value.getClass().getSimpleName(),
        digest,
        size,
        told ? Optional.of(PlainForm.of(value)) : Optional.empty(),
        statistics(value));
  }

  /** Returns the numbers of a value in short. */
  static Statistics statistics(Object value) {
    Parts parts = new Parts();
    parts.collect(value);
    List<Numbers> of = parts.samples.isEmpty() ? parts.others : parts.samples;
    long count = 0;
    double min = Double.POSITIVE_INFINITY;
    double max = Double.NEGATIVE_INFINITY;
    double squares = 0;
    for (Numbers numbers : of) {
      for (int i = 0; i < numbers.size(); i++) {
        double x = numbers.at(i);
        if (Double.isFinite(x)) {
          count++;
          min = Math.min(min, x);
          max = Math.max(max, x);
          squares += x * x;
        }
      }
    }
    if (count == 0) {
      return new Statistics(0, 0, 0, 0, Doubles.of());
    }
    return new Statistics(count, min, max, Math.sqrt(squares / count), kept(of, count));
  }

  private static Doubles kept(List<Numbers> of, long count) {
    int n = (int) Math.min(KEPT, count);
    double[] kept = new double[n];
    long at = 0;
    int k = 0;
    for (Numbers numbers : of) {
      for (int i = 0; i < numbers.size() && k < n; i++) {
        double x = numbers.at(i);
        if (Double.isFinite(x)) {
          long wanted = count <= KEPT ? k : k * (count - 1) / (KEPT - 1);
          if (at++ == wanted) {
            kept[k++] = x;
          }
        }
      }
    }
    return Doubles.of(kept);
  }

  /** Numbers in a row. */
  private interface Numbers {
    int size();

    double at(int i);
  }

  private record OfSamples(Samples samples) implements Numbers {
    @Override
    public int size() {
      return samples.size();
    }

    @Override
    public double at(int i) {
      return samples.get(i);
    }
  }

  private record OfDoubles(Doubles doubles) implements Numbers {
    @Override
    public int size() {
      return doubles.size();
    }

    @Override
    public double at(int i) {
      return doubles.get(i);
    }
  }

  /** The numbers of a value in the order of its encoding. */
  private static final class Parts {
    private final List<Numbers> samples = new ArrayList<>();
    private final List<Numbers> others = new ArrayList<>();

    void collect(Object value) {
      if (value instanceof Samples s) {
        samples.add(new OfSamples(s));
      } else if (value instanceof Doubles d) {
        others.add(new OfDoubles(d));
      } else if (value instanceof Double d) {
        others.add(new OfDoubles(Doubles.of(d)));
      } else if (value instanceof Optional<?> optional) {
        optional.ifPresent(this::collect);
      } else if (value instanceof Collection<?> list) {
        list.forEach(this::collect);
      } else if (value instanceof Map<?, ?> map) {
        map.values().forEach(this::collect);
      } else if (value.getClass().isRecord()) {
        for (Operations.Component c : Operations.components(value.getClass())) {
          collect(Operations.value(value, c.name()));
        }
      }
    }
  }
}
