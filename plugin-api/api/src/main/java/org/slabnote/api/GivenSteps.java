package org.slabnote.api;

import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import java.util.function.BiFunction;
import java.util.function.Function;

/** Steps whose values are at hand; operations run at once, serially. */
record GivenSteps<R>(Map<String, Step<R>> steps) implements Steps<R> {
  static <R> GivenSteps<R> of(SortedMap<String, R> values) {
    Map<String, Step<R>> steps = new LinkedHashMap<>();
    values.forEach((name, value) -> steps.put(name, Step.given(value)));
    return new GivenSteps<>(Collections.unmodifiableMap(steps));
  }

  @Override
  public List<String> names() {
    return new ArrayList<>(steps.keySet());
  }

  @Override
  public Step<R> of(String name) {
    Step<R> step = steps.get(name);
    if (step == null) {
      throw new IllegalArgumentException(
          "no step for " + name + "; there are " + String.join(", ", steps.keySet()));
    }
    return step;
  }

  @Override
  public Steps<R> then(Filter<R> filter) {
    Map<String, Step<R>> next = new LinkedHashMap<>();
    steps.forEach((name, step) -> next.put(name, step.then(filter)));
    return new GivenSteps<>(next);
  }

  @Override
  public <S> Steps<S> each(Function<? super Step<R>, ? extends Operation<S>> operation) {
    Map<String, Step<S>> next = new LinkedHashMap<>();
    steps.forEach((name, step) -> next.put(name, run(name, operation.apply(step))));
    return new GivenSteps<>(next);
  }

  @Override
  public <T, S> Steps<S> each(
      Steps<T> other,
      BiFunction<? super Step<R>, ? super Step<T>, ? extends Operation<S>> operation) {
    Map<String, Step<S>> next = new LinkedHashMap<>();
    steps.forEach((name, step) -> next.put(name, run(name, operation.apply(step, other.of(name)))));
    return new GivenSteps<>(next);
  }

  @Override
  public Steps<R> in(Steps<?> other) {
    Map<String, Step<R>> kept = new LinkedHashMap<>(steps);
    kept.keySet().retainAll(other.names());
    return new GivenSteps<>(kept);
  }

  private static <S> Step<S> run(String name, Operation<S> operation) {
    return Step.given(Operations.apply(operation, Work.serial("given/" + name)));
  }
}
