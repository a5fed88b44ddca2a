package org.slabnote.worker.run;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.BiFunction;
import java.util.function.Function;
import org.slabnote.api.Filter;
import org.slabnote.api.Operation;
import org.slabnote.api.Step;
import org.slabnote.api.Steps;

/**
 * An input as an operation of a third party gets it: a copy of its own.
 *
 * @param value the copy
 * @param name how messages name it
 */
record PrivateStep<R>(R value, String name) implements Step<R> {
  @Override
  public R get() {
    return value;
  }

  @Override
  public Step<R> then(Filter<R> filter) {
    throw cannotState();
  }

  @Override
  public String toString() {
    return name;
  }

  private static IllegalStateException cannotState() {
    return new IllegalStateException(
        "an operation states no steps; expected it to use the values of its inputs");
  }

  /** Several of them, in order of the survey table. */
  static final class Family<R> implements Steps<R> {
    private final Map<String, Step<R>> steps;

    Family(Map<String, Step<R>> steps) {
      this.steps = new LinkedHashMap<>(steps);
    }

    @Override
    public List<String> names() {
      return new ArrayList<>(steps.keySet());
    }

    @Override
    public Step<R> of(String name) {
      Step<R> step = steps.get(name);
      if (step == null) {
        throw new IllegalArgumentException("no step for " + name + "; there "
            + (steps.isEmpty() ? "is none" : "are " + String.join(", ", steps.keySet())));
      }
      return step;
    }

    @Override
    public Steps<R> then(Filter<R> filter) {
      throw cannotState();
    }

    @Override
    public <S> Steps<S> each(Function<? super Step<R>, ? extends Operation<S>> operation) {
      throw cannotState();
    }

    @Override
    public <T, S> Steps<S> each(
        Steps<T> other,
        BiFunction<? super Step<R>, ? super Step<T>, ? extends Operation<S>> operation) {
      throw cannotState();
    }

    @Override
    public Steps<R> in(Steps<?> other) {
      Map<String, Step<R>> kept = new LinkedHashMap<>(steps);
      kept.keySet().retainAll(other.names());
      return new Family<>(kept);
    }
  }
}
