package org.slabnote.worker.run;

import java.lang.reflect.ParameterizedType;
import java.lang.reflect.RecordComponent;
import java.lang.reflect.Type;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.slabnote.api.Filter;
import org.slabnote.api.Operation;
import org.slabnote.api.Operations;

/**
 * Whether a value is of the type that an operation states. The JVM holds a value to its class; what
 * a list, an optional or a map holds, nobody does before somebody uses it, who would then be blamed.
 */
final class Fits {
  private Fits() {}

  /** Returns the type of the result that an operation's or filter's class states. */
  static Optional<Type> result(Class<?> type) {
    for (Type one : type.getGenericInterfaces()) {
      if (one instanceof ParameterizedType p
          && (p.getRawType() == Operation.class || p.getRawType() == Filter.class)) {
        return Optional.of(p.getActualTypeArguments()[0]);
      }
    }
    return Optional.empty();
  }

  /** Returns what is of another type than expected, in words; nothing where all fits. */
  static Optional<String> misfit(Type expected, Object value, String what) {
    if (expected instanceof Class<?> type) {
      if (!type.isPrimitive() && !type.isInstance(value)) {
        return Optional.of(
            what + " is a " + value.getClass().getName() + "; expected a " + type.getName());
      }
      return components(value, what);
    }
    if (expected instanceof ParameterizedType generic) {
      Optional<String> raw = misfit(generic.getRawType(), value, what);
      return raw.isPresent() ? raw : contents(generic.getActualTypeArguments(), value, what);
    }
    return Optional.empty(); // a variable: it may be anything
  }

  private static Optional<String> contents(Type[] types, Object value, String what) {
    if (value instanceof Optional<?> optional) {
      return optional.flatMap(inner -> misfit(types[0], inner, what));
    }
    if (value instanceof List<?> list) {
      for (int i = 0; i < list.size(); i++) {
        Optional<String> misfit = misfit(types[0], list.get(i), what + "[" + i + "]");
        if (misfit.isPresent()) {
          return misfit;
        }
      }
    }
    if (value instanceof Map<?, ?> map) {
      for (Map.Entry<?, ?> one : map.entrySet()) {
        Optional<String> misfit = misfit(types[0], one.getKey(), what + " key")
            .or(() -> misfit(types[1], one.getValue(), what + "." + one.getKey()));
        if (misfit.isPresent()) {
          return misfit;
        }
      }
    }
    return Optional.empty();
  }

  private static Optional<String> components(Object value, String what) {
    if (!value.getClass().isRecord()) {
      return Optional.empty();
    }
    for (RecordComponent c : value.getClass().getRecordComponents()) {
      Object part = Operations.value(value, c.getName());
      Optional<String> misfit = misfit(c.getGenericType(), part, what + "." + c.getName());
      if (misfit.isPresent()) {
        return misfit;
      }
    }
    return Optional.empty();
  }
}
