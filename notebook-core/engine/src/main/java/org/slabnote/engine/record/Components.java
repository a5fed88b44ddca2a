package org.slabnote.engine.record;

import java.lang.reflect.InvocationTargetException;
import java.lang.reflect.RecordComponent;
import java.util.LinkedHashMap;
import java.util.Map;

/** The components of a record value, in order. */
final class Components {
  private Components() {}

  static Map<String, Object> of(Object value) {
    Map<String, Object> parts = new LinkedHashMap<>();
    for (RecordComponent component : value.getClass().getRecordComponents()) {
      try {
        var accessor = component.getAccessor();
        accessor.setAccessible(true);
        parts.put(component.getName(), accessor.invoke(value));
      } catch (IllegalAccessException | InvocationTargetException e) {
        throw new IllegalStateException(
            value.getClass().getName() + "." + component.getName() + " cannot be read", e);
      }
    }
    return parts;
  }
}
