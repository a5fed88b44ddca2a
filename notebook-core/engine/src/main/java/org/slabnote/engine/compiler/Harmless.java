package org.slabnote.engine.compiler;

import java.util.Arrays;
import java.util.Collection;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.function.BinaryOperator;
import java.util.function.Function;
import java.util.stream.Collector;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;

/**
 * What cells call in place of methods whose answer differs between machines or from run to run.
 *
 * <p>{@link HarmlessCalls} copies these methods into the cells' classes: nothing here is called by its
 * place. So they may call each other and the JDK, but hold no lambda with a body and no state. Each
 * keeps the contract of the method it stands for, but for the order or the language, which it fixes.
 */
final class Harmless {
  private Harmless() {}

  /** {@code String.format(format, arguments)} in the root locale. */
  static String format(String format, Object... arguments) {
    return format(Locale.ROOT, format, arguments);
  }

  /** {@code String.format(locale, format, arguments)}. */
  static String format(Locale locale, String format, Object... arguments) {
    if (arguments != null) {
      for (Object one : arguments) {
        text(one);
      }
    }
    return String.format(locale, checked(format), arguments);
  }

  /** Refuses what shows identity, the clock's words or the machine's line end. */
  static String checked(String format) {
    if (format.replace("%%", "").matches("(?s).*%[-#+ 0,(<$.\\d]*[hHtTn].*")) {
      throw new IllegalArgumentException("the format \"" + format
          + "\" has %h, %t or %n, which differ between machines and runs. "
          + "Use %s or %d, and \\n for the end of a line");
    }
    return format;
  }

  /** {@code String.valueOf(value)} of what has a text of its own. */
  static String text(Object value) {
    if (value instanceof Throwable thrown) {
      return textOf(thrown);
    }
    return value instanceof CharSequence ? value.toString() : checkedText(String.valueOf(value));
  }

  /** {@code thrown.getMessage()} without places in memory, such as those of class loaders. */
  static @Nullable String messageOf(Throwable thrown) {
    String message = thrown.getMessage();
    return message == null ? null : placeless(message);
  }

  /** {@code thrown.toString()} without places in memory. */
  static String textOf(Throwable thrown) {
    return placeless(thrown.toString());
  }

  /** The message of an exception that states nothing but its cause. */
  static @Nullable String causeText(@Nullable Throwable cause) {
    return cause == null ? null : textOf(cause);
  }

  private static String placeless(String text) {
    return text.replaceAll("@[0-9a-f]{1,8}(?![\\w.@-])", "@(place in memory)");
  }

  private static String checkedText(String text) {
    if (!text.matches("(?s).*[\\w$;)\\]]@[0-9a-f]{1,8}(?![\\w.@-]).*")) {
      return text;
    }
    throw new IllegalStateException("the text \"" + placeless(text)
        + "\" shows a place in memory, which differs from run to run. Show what the object holds");
  }

  /** {@code value.toString()} of what has a text of its own. */
  static String ownText(Object value) {
    return text(Objects.requireNonNull(value));
  }

  /** {@code Objects.toString(value, otherwise)} of what has a text of its own. */
  static String text(Object value, String otherwise) {
    return value == null ? otherwise : text(value);
  }

  /** {@code Arrays.toString(values)} of what has a text of its own. */
  static String textOfAll(Object... values) {
    return checkedText(Arrays.toString(values));
  }

  /** {@code to.append(value)} of what has a text of its own. */
  static StringBuilder append(StringBuilder to, Object value) {
    return to.append(text(value));
  }

  /** {@code to.insert(at, value)} of what has a text of its own. */
  static StringBuilder insert(StringBuilder to, int at, Object value) {
    return to.insert(at, text(value));
  }

  /** {@code text.toUpperCase()} in the root locale. */
  static String toUpperCase(String text) {
    return text.toUpperCase(Locale.ROOT);
  }

  /** {@code text.toLowerCase()} in the root locale. */
  static String toLowerCase(String text) {
    return text.toLowerCase(Locale.ROOT);
  }

  /** {@code Set.of(elements)} in the order of its elements. */
  static Set<Object> setOf(Object... elements) {
    List<Object> list = List.of(elements);
    Set<Object> set = new LinkedHashSet<>(list);
    if (set.size() < list.size()) {
      throw new IllegalArgumentException(
          "Set.of: an element stands twice among " + text(list) + ". Leave one out");
    }
    return Collections.unmodifiableSet(set);
  }

  /** {@code Set.copyOf(elements)} in the order of its elements. */
  static Set<Object> copyOf(Collection<Object> elements) {
    return Collections.unmodifiableSet(new LinkedHashSet<>(List.copyOf(elements)));
  }

  /** {@code Map.of(key, value, ...)} in the order of its keys. */
  static Map<Object, Object> mapOf(Object... keysAndValues) {
    List<Object> list = List.of(keysAndValues);
    Map<Object, Object> map = new LinkedHashMap<>();
    for (int i = 0; i < list.size(); i += 2) {
      if (map.put(list.get(i), list.get(i + 1)) != null) {
        throw new IllegalArgumentException(
            "Map.of: the key " + text(list.get(i)) + " stands twice. Leave one out");
      }
    }
    return Collections.unmodifiableMap(map);
  }

  /** {@code Map.ofEntries(entries)} in the order of its entries. */
  @SafeVarargs
  static Map<Object, Object> ofEntries(Map.Entry<Object, Object>... entries) {
    Object[] keysAndValues = new Object[2 * entries.length];
    for (int i = 0; i < entries.length; i++) {
      keysAndValues[2 * i] = entries[i].getKey();
      keysAndValues[2 * i + 1] = entries[i].getValue();
    }
    return mapOf(keysAndValues);
  }

  /** {@code Map.copyOf(map)} in the order of the map. */
  static Map<Object, Object> copyOf(Map<Object, Object> map) {
    Map<Object, Object> copy = new LinkedHashMap<>(map);
    if (copy.containsKey(null) || copy.containsValue(null)) {
      throw new NullPointerException("Map.copyOf: a key or a value is null");
    }
    return Collections.unmodifiableMap(copy);
  }

  /** {@code Collectors.toSet()} in the order met. */
  static Collector<Object, ?, Set<Object>> toSet() {
    return Collectors.toCollection(LinkedHashSet::new);
  }

  /** {@code Collectors.toUnmodifiableSet()} in the order met. */
  static Collector<Object, ?, Set<Object>> toUnmodifiableSet() {
    return Collectors.collectingAndThen(toSet(), Collections::unmodifiableSet);
  }

  /** {@code Collectors.groupingBy(key)} in the order met. */
  static Collector<Object, ?, Map<Object, List<Object>>> groupingBy(Function<Object, Object> key) {
    return Collectors.groupingBy(key, LinkedHashMap::new, Collectors.toList());
  }

  /** {@code Collectors.groupingBy(key, below)} in the order met. */
  static Collector<Object, ?, Map<Object, Object>> groupingBy(
      Function<Object, Object> key, Collector<Object, Object, Object> below) {
    return Collectors.groupingBy(key, LinkedHashMap::new, below);
  }

  /** {@code Collectors.toMap(key, value)} in the order met. */
  static Collector<Object, ?, Map<Object, Object>> toMap(
      Function<Object, Object> key, Function<Object, Object> value) {
    return Collectors.toMap(key, value, Harmless::twice, LinkedHashMap::new);
  }

  /** {@code Collectors.toMap(key, value, join)} in the order met. */
  static Collector<Object, ?, Map<Object, Object>> toMap(
      Function<Object, Object> key, Function<Object, Object> value, BinaryOperator<Object> join) {
    return Collectors.toMap(key, value, join, LinkedHashMap::new);
  }

  /** {@code Collectors.toUnmodifiableMap(key, value)} in the order met. */
  static Collector<Object, ?, Map<Object, Object>> toUnmodifiableMap(
      Function<Object, Object> key, Function<Object, Object> value) {
    return Collectors.collectingAndThen(toMap(key, value), Collections::unmodifiableMap);
  }

  /** {@code Collectors.toUnmodifiableMap(key, value, join)} in the order met. */
  static Collector<Object, ?, Map<Object, Object>> toUnmodifiableMap(
      Function<Object, Object> key, Function<Object, Object> value, BinaryOperator<Object> join) {
    return Collectors.collectingAndThen(toMap(key, value, join), Collections::unmodifiableMap);
  }

  /** Two values of one key, with nothing said on how to join them. */
  static Object twice(Object first, Object second) {
    throw new IllegalStateException("toMap: two values for one key, " + text(first) + " and "
        + text(second) + ". Give toMap a third argument that joins them");
  }
}
