package org.slabnote.api;

import java.util.List;
import java.util.SortedMap;
import java.util.function.BiFunction;
import java.util.function.Function;

/**
 * Handles on like results, one per pass, in the order of the survey table.
 *
 * @param <R> type of each result
 * @since 0.1
 */
public interface Steps<R> {
  /** Returns the names, as {@link #of} takes them: the pass, or {@code pass:channel} where a pass has several. */
  List<String> names();

  /**
   * Returns one of the steps.
   *
   * @throws IllegalArgumentException if there is none of this name; the message lists the names
   */
  Step<R> of(String name);

  /** Returns the steps in order. */
  default List<Step<R>> list() {
    return names().stream().map(this::of).toList();
  }

  /** States the next step of each: through a filter. */
  Steps<R> then(Filter<R> filter);

  /** States an operation on each; {@code operation} is called at once, in order. */
  <S> Steps<S> each(Function<? super Step<R>, ? extends Operation<S>> operation);

  /**
   * States an operation on each and its counterpart of the same name.
   *
   * @throws IllegalArgumentException if a counterpart is missing; the message names it
   */
  <T, S> Steps<S> each(
      Steps<T> other,
      BiFunction<? super Step<R>, ? super Step<T>, ? extends Operation<S>> operation);

  /** Returns those of the steps whose name {@code other} has too. */
  Steps<R> in(Steps<?> other);

  /** Returns steps whose results are given, in order of name: for tests. */
  static <R> Steps<R> given(SortedMap<String, R> values) {
    return GivenSteps.of(values);
  }
}
