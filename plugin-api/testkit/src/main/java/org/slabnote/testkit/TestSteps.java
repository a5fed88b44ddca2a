package org.slabnote.testkit;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.BiFunction;
import java.util.function.Function;
import org.slabnote.api.Filter;
import org.slabnote.api.Operation;
import org.slabnote.api.Operations;
import org.slabnote.api.Step;
import org.slabnote.api.Steps;

/** Steps whose values are at hand, in the order given; operations run at once. */
record TestSteps<R>(Map<String, Step<R>> steps) implements Steps<R> {
  TestSteps {
    steps = new LinkedHashMap<>(steps);
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
    return new TestSteps<>(next);
  }

  @Override
  public <S> Steps<S> each(Function<? super Step<R>, ? extends Operation<S>> operation) {
    Map<String, Step<S>> next = new LinkedHashMap<>();
    steps.forEach((name, step) -> next.put(name, run(name, operation.apply(step))));
    return new TestSteps<>(next);
  }

  @Override
  public <T, S> Steps<S> each(
      Steps<T> other,
      BiFunction<? super Step<R>, ? super Step<T>, ? extends Operation<S>> operation) {
    Map<String, Step<S>> next = new LinkedHashMap<>();
    steps.forEach((name, step) -> next.put(name, run(name, operation.apply(step, other.of(name)))));
    return new TestSteps<>(next);
  }

  @Override
  public Steps<R> in(Steps<?> other) {
    Map<String, Step<R>> kept = new LinkedHashMap<>(steps);
    kept.keySet().retainAll(other.names());
    return new TestSteps<>(kept);
  }

  static <S> Step<S> run(String name, Operation<S> operation) {
    String id = Operations.describe(operation.getClass()).id();
    return Step.given(Operations.apply(operation, TestWork.serial().at(id + "/" + name)));
  }
}
