package org.slabnote.testkit;

import java.lang.reflect.Constructor;
import java.lang.reflect.InvocationTargetException;
import java.lang.reflect.RecordComponent;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.UnaryOperator;
import org.jspecify.annotations.Nullable;
import org.slabnote.api.Filter;
import org.slabnote.api.Operation;
import org.slabnote.api.Operations;
import org.slabnote.api.Scan;
import org.slabnote.api.Step;
import org.slabnote.api.Steps;
import org.slabnote.api.Work;
import org.slabnote.api.codec.Canonical;

/**
 * An operation or filter with inputs to run it on.
 *
 * @param record the operation (its inputs given within it) or the filter
 * @param input what the filter is applied to; null for an operation
 */
record Subject(Object record, @Nullable Object input) {

  String id() {
    return Operations.describe(record.getClass()).id();
  }

  boolean isFilter() {
    return record instanceof Filter<?>;
  }

  /** Runs it as the engine would, without the engine's checks. */
  Object run(Work work) {
    Object result =
        record instanceof Operation<?> operation ? operation.apply(work) : filtered(work);
    if (result == null) {
      throw new AssertionError(id() + ": null returned; expected a value. Optional says 'none'");
    }
    return result;
  }

  @SuppressWarnings("unchecked")
  private Object filtered(Work work) {
    if (input == null) {
      throw new AssertionError(id() + ": no input to filter");
    }
    return ((Filter<Object>) record).apply(input, work);
  }

  byte[] bytes(Work work) {
    return Canonical.encode(run(work));
  }

  /** Returns the bytes of all inputs, one after another. */
  List<byte[]> inputBytes() {
    List<byte[]> all = new ArrayList<>();
    if (input != null) {
      all.add(Canonical.encode(input));
    }
    for (Operations.Component c : Operations.components(record.getClass())) {
      if (c.input()) {
        stepsIn(value(c.name())).forEach(step -> all.add(Canonical.encode(step.get())));
      }
    }
    return all;
  }

  /** Returns the parameters by name, in order. */
  Map<String, Object> parameters() {
    Map<String, Object> all = new LinkedHashMap<>();
    for (Operations.Component c : Operations.components(record.getClass())) {
      if (!c.input()) {
        all.put(c.name(), value(c.name()));
      }
    }
    return all;
  }

  Object value(String component) {
    return Operations.value(record, component);
  }

  /** Returns whether some input is a scan. */
  boolean hasScan() {
    if (input instanceof Scan) {
      return true;
    }
    return Operations.components(record.getClass()).stream()
        .filter(Operations.Component::input)
        .flatMap(c -> stepsIn(value(c.name())).stream())
        .anyMatch(step -> step.get() instanceof Scan);
  }

  /** Returns the same operation on changed scans; its other inputs stay. */
  Subject onScans(UnaryOperator<Scan> change) {
    Object changed = record;
    for (Operations.Component c : Operations.components(record.getClass())) {
      if (c.input()) {
        changed = with(changed, c.name(), changed(value(c.name()), change));
      }
    }
    return new Subject(changed, input instanceof Scan scan ? change.apply(scan) : input);
  }

  private static Object changed(Object handle, UnaryOperator<Scan> change) {
    if (handle instanceof Step<?> step) {
      return step.get() instanceof Scan scan ? Step.given(change.apply(scan)) : step;
    }
    if (handle instanceof Optional<?> optional) {
      return optional.map(inner -> changed(inner, change));
    }
    Map<String, Step<Object>> next = new LinkedHashMap<>();
    Steps<?> steps = (Steps<?>) handle;
    for (String name : steps.names()) {
      Object value = steps.of(name).get();
      next.put(name, Step.given(value instanceof Scan scan ? change.apply(scan) : value));
    }
    return new TestSteps<>(next);
  }

  private static List<Step<?>> stepsIn(Object handle) {
    if (handle instanceof Step<?> step) {
      return List.of(step);
    }
    if (handle instanceof Optional<?> optional) {
      return optional.<List<Step<?>>>map(Subject::stepsIn).orElse(List.of());
    }
    return List.copyOf(((Steps<?>) handle).list());
  }

  /**
   * Returns a copy of a record with one component replaced.
   *
   * @throws IllegalArgumentException if the record's constructor refuses it so
   */
  static Object with(Object record, String component, Object value) {
    RecordComponent[] components = record.getClass().getRecordComponents();
    Class<?>[] types = new Class<?>[components.length];
    Object[] values = new Object[components.length];
    for (int i = 0; i < components.length; i++) {
      types[i] = components[i].getType();
      String name = components[i].getName();
      values[i] = name.equals(component) ? value : Operations.value(record, name);
    }
    try {
      Constructor<?> constructor = record.getClass().getDeclaredConstructor(types);
      constructor.setAccessible(true);
      return constructor.newInstance(values);
    } catch (InvocationTargetException e) {
      if (e.getTargetException() instanceof RuntimeException refusal) {
        throw refusal;
      }
      throw new IllegalStateException(record.getClass() + " cannot be made", e);
    } catch (ReflectiveOperationException e) {
      throw new IllegalStateException(record.getClass() + " cannot be made", e);
    }
  }
}
