package org.slabnote.engine.trace;

import java.lang.reflect.RecordComponent;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.slabnote.api.Cut;
import org.slabnote.engine.compiler.Reading;

/** Finds parts of the job sheet, the survey table and the cuts. */
final class Parts {
  private Parts() {}

  /** The value of a part; null where the way to it ends early. */
  static @Nullable Object value(Inputs inputs, Reading reading) {
    Object at = switch (reading.of()) {
      case JOB -> inputs.sheet();
      case SURVEY -> inputs.survey();
      default -> inputs.cuts();
    };
    for (String element : reading.path()) {
      Object next = down(at, element);
      if (next == null) {
        return null;
      }
      at = next;
    }
    return at;
  }

  private static @Nullable Object down(Object at, String element) {
    String name = element.substring(1);
    if (at instanceof List<?> list) {
      if (element.startsWith("#")) {
        int i = Integer.parseInt(name);
        return i < list.size() ? list.get(i) : null;
      }
      return list.stream()
          .filter(one -> one instanceof Cut cut && cut.name().equals(name))
          .findFirst()
          .orElse(null);
    }
    if (at instanceof Map<?, ?> map) {
      for (Map.Entry<?, ?> one : map.entrySet()) {
        String key = one.getKey() instanceof Enum<?> e ? e.name() : String.valueOf(one.getKey());
        if (key.equals(name)) {
          return one.getValue();
        }
      }
      return null;
    }
    return component(at, name);
  }

  private static @Nullable Object component(Object record, String name) {
    for (RecordComponent one : record.getClass().getRecordComponents()) {
      if (one.getName().equals(name)) {
        return read(record, one);
      }
    }
    return null;
  }

  private static @Nullable Object read(Object record, RecordComponent component) {
    try {
      return component.getAccessor().invoke(record);
    } catch (ReflectiveOperationException e) {
      throw new IllegalStateException(component + " cannot be read", e);
    }
  }

  /** Names of the components in which two records of one type differ. */
  static List<String> difference(Object before, Object after) {
    List<String> names = new ArrayList<>();
    for (RecordComponent one : before.getClass().getRecordComponents()) {
      if (!Objects.equals(read(before, one), read(after, one))) {
        names.add(one.getName());
      }
    }
    return names;
  }

  static Optional<Cut> cut(Inputs inputs, String name) {
    return inputs.cuts().stream().filter(cut -> cut.name().equals(name)).findFirst();
  }
}
