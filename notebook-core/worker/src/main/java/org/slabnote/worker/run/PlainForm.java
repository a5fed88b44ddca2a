package org.slabnote.worker.run;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import org.slabnote.api.Doubles;
import org.slabnote.api.Operations;
import org.slabnote.api.Samples;

/** Values as a process can read them that has the API only. */
final class PlainForm {
  private static final String API = "org.slabnote.api.";

  private PlainForm() {}

  /**
   * Returns a value of the API as it is; an enum constant of another type as its name, a record of
   * another type as its components by name; the same within lists, optionals and maps.
   */
  static Object of(Object value) {
    if (value.getClass().getName().startsWith(API)
        || value instanceof Enum<?> e && e.getDeclaringClass().getName().startsWith(API)
        || value instanceof Samples
        || value instanceof Doubles) {
      return value;
    }
    if (value instanceof Enum<?> e) {
      return e.name();
    }
    if (value instanceof List<?> list) {
      return list.stream().map(PlainForm::of).toList();
    }
    if (value instanceof Optional<?> optional) {
      return optional.map(PlainForm::of);
    }
    if (value instanceof Map<?, ?> map) {
      return map(map);
    }
    if (value.getClass().isRecord()) {
      SortedMap<String, Object> parts = new TreeMap<>();
      for (Operations.Component c : Operations.components(value.getClass())) {
        parts.put(c.name(), of(Operations.value(value, c.name())));
      }
      return parts;
    }
    return value;
  }

  private static SortedMap<Object, Object> map(Map<?, ?> map) {
    SortedMap<Object, Object> plain = new TreeMap<>();
    map.forEach((key, value) -> plain.put(of(key), of(value)));
    return plain;
  }
}
