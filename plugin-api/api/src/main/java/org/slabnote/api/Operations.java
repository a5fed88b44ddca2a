package org.slabnote.api;

import java.lang.reflect.InvocationTargetException;
import java.lang.reflect.RecordComponent;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.slabnote.api.quantity.Quantity;
import org.slabnote.api.quantity.Units;

/**
 * What annotations say of an operation, and the checks that follow from it. Called by the engine
 * and the testkit.
 *
 * @since 0.1
 */
public final class Operations {
  private Operations() {}

  /**
   * One component of an operation.
   *
   * @param name component name
   * @param type declared type
   * @param input whether it is an input (step) and not a parameter
   * @param role orientation that an input must have
   * @param param description of a parameter
   * @since 0.1
   */
  public record Component(
      String name,
      Class<?> type,
      boolean input,
      Optional<Orientation> role,
      Optional<Param> param) {}

  /**
   * Returns the annotation of an operation's type.
   *
   * @throws IllegalArgumentException if the type is no record or has no {@link Op}
   */
  public static Op describe(Class<?> type) {
    Op op = type.getAnnotation(Op.class);
    if (op == null || !type.isRecord()) {
      throw new IllegalArgumentException(
          type.getName()
              + " is no operation; expected a record annotated @Op. A lambda or a plain class cannot be recorded");
    }
    return op;
  }

  /** Returns the components of an operation's type, in order. */
  public static List<Component> components(Class<?> type) {
    List<Component> list = new ArrayList<>();
    for (RecordComponent c : type.getRecordComponents()) {
      boolean input = Step.class.isAssignableFrom(c.getType())
          || Steps.class.isAssignableFrom(c.getType())
          || (c.getType() == Optional.class
              && c.getGenericType().getTypeName().contains("org.slabnote.api.Step"));
      Optional<Orientation> role =
          Optional.ofNullable(c.getAnnotation(Role.class)).map(Role::value);
      list.add(new Component(
          c.getName(),
          c.getType(),
          input,
          role,
          Optional.ofNullable(c.getAnnotation(Param.class))));
    }
    return list;
  }

  /** Returns the value of a component. */
  public static Object value(Object operation, String component) {
    for (RecordComponent c : operation.getClass().getRecordComponents()) {
      if (c.getName().equals(component)) {
        try {
          var accessor = c.getAccessor();
          accessor.setAccessible(true);
          return accessor.invoke(operation);
        } catch (IllegalAccessException | InvocationTargetException e) {
          throw new IllegalStateException(
              operation.getClass().getName() + "." + component + " cannot be read", e);
        }
      }
    }
    throw new IllegalArgumentException(
        operation.getClass().getName() + " has no component " + component);
  }

  /**
   * Checks every parameter against the range in its annotation.
   *
   * @throws IllegalArgumentException if one lies outside; the message names operation, parameter,
   *     value, range and what it means
   */
  public static void check(Object operation) {
    Op op = describe(operation.getClass());
    for (Component c : components(operation.getClass())) {
      if (c.param().isPresent()) {
        checkRange(op.id(), c, value(operation, c.name()));
      }
    }
  }

  private static void checkRange(String id, Component c, Object value) {
    Param p = c.param().orElseThrow();
    if (value instanceof Optional<?> optional) {
      optional.ifPresent(inner -> checkRange(id, c, inner));
      return;
    }
    double number;
    if (value instanceof Quantity<?> q) {
      number = q.value();
    } else if (value instanceof Integer || value instanceof Long || value instanceof Double) {
      number = ((Number) value).doubleValue();
    } else {
      return;
    }
    boolean low = Units.bound(p.from()).map(b -> number < b.value()).orElse(false);
    boolean high = Units.bound(p.to()).map(b -> number > b.value()).orElse(false);
    if (low || high || Double.isNaN(number)) {
      String like = p.from().isBlank() ? p.to() : p.from();
      String shown =
          value instanceof Quantity<?> q ? Units.formatLike(q, like) : Units.plain(number, 6);
      String range = p.from().isBlank()
          ? "above " + p.to()
          : p.to().isBlank() ? "below " + p.from() : "outside " + p.from() + " to " + p.to();
      throw new IllegalArgumentException(
          id + ": " + c.name() + " = " + shown + " is " + range + ". Expected: " + p.meaning());
    }
  }

  /** Returns the parameters as text: {@code window = 1 ns, ...}. */
  public static String parameters(Object operation) {
    List<String> parts = new ArrayList<>();
    for (Component c : components(operation.getClass())) {
      if (!c.input()) {
        parts.add(c.name() + " = " + value(operation, c.name()));
      }
    }
    return String.join(", ", parts);
  }

  /** Checks and computes an operation. */
  public static <R> R apply(Operation<R> operation, Work work) {
    check(operation);
    checkRoles(operation);
    return operation.apply(work);
  }

  /** Checks and computes a filter, and adds it to the history of a scan. */
  @SuppressWarnings("unchecked")
  public static <V> V apply(Filter<V> filter, V input, Work work) {
    check(filter);
    V result = filter.apply(input, work);
    if (result instanceof Scan scan) {
      Op op = describe(filter.getClass());
      return (V) scan.treated(new Treatment(op.id(), parameters(filter), filter.amplitudes()));
    }
    return result;
  }

  private static void checkRoles(Object operation) {
    for (Component c : components(operation.getClass())) {
      if (c.role().isEmpty() || !c.input()) {
        continue;
      }
      Orientation expected = c.role().get();
      Object handle = value(operation, c.name());
      List<? extends Step<?>> steps = handle instanceof Steps<?> many
          ? many.list()
          : handle instanceof Step<?> one ? List.of(one) : List.of();
      for (Step<?> step : steps) {
        if (step.get() instanceof Scan scan && scan.orientation() != expected) {
          throw new IllegalArgumentException(
              describe(operation.getClass()).id() + ": " + c.name() + " = scan "
                  + scan.pass() + ", channel " + scan.channel() + ", which is " + scan.orientation()
                  + "; expected " + expected + ". Perhaps the two orientations are swapped");
        }
      }
    }
  }
}
