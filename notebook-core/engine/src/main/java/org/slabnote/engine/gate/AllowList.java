package org.slabnote.engine.gate;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;

/** The readable list of what cells may refer to, and the reasons for what they may not. */
final class AllowList {
  /** Why something is refused, and what to use instead. */
  record Reason(String why, String instead) {}

  /** A plugin cannot open the JDK or the engine to cells, whatever it exports. */
  private static final Pattern OUTSIDE = Pattern.compile(
      "^(javax?|jdk|sun|com\\.sun|org\\.slabnote\\.(worker|engine|report|desktop|app))(\\.|$)");

  private record Rule(Set<String> only, Set<String> except) {
    boolean allows(String name, String descriptor) {
      return (only.isEmpty() || has(only, name, descriptor)) && !excepts(name, descriptor);
    }

    boolean excepts(String name, String descriptor) {
      return has(except, name, descriptor);
    }
  }

  private static boolean has(Set<String> members, String name, String descriptor) {
    return members.contains(name) || members.contains(name + descriptor);
  }

  private final Map<String, Rule> classes = new LinkedHashMap<>();
  private final Map<String, Boolean> packages = new HashMap<>();
  private final Map<String, Set<String>> never = new LinkedHashMap<>();
  private final Set<String> textless = new LinkedHashSet<>();
  private final Map<String, Reason> reasons = new HashMap<>();
  private final Set<String> exported = new LinkedHashSet<>();
  private final Map<String, Set<String>> pins = new HashMap<>();

  /**
   * Reads the list that stands beside this class.
   *
   * @param exportedPackages packages of the loaded plugins that cells may use, dots between the parts
   */
  static AllowList standard(Collection<String> exportedPackages) {
    AllowList list = new AllowList();
    exportedPackages.stream()
        .filter(name -> !OUTSIDE.matcher(name).find())
        .forEach(list.exported::add);
    lines("allowed.txt").forEach(list::line);
    for (String line : lines("jdk17.txt")) {
      String[] words = line.split(" ");
      list.pins.put(words[0], new LinkedHashSet<>(Arrays.asList(words).subList(1, words.length)));
    }
    return list;
  }

  private static List<String> lines(String resource) {
    List<String> lines = new ArrayList<>();
    InputStream in = AllowList.class.getResourceAsStream(resource);
    if (in == null) {
      throw new IllegalStateException(
          resource + " is missing from the engine's jar. Install Slabnote again");
    }
    try (BufferedReader reader =
        new BufferedReader(new InputStreamReader(in, StandardCharsets.UTF_8))) {
      for (String line = reader.readLine(); line != null; line = reader.readLine()) {
        if (!line.isBlank() && !line.startsWith("#")) {
          lines.add(line.strip());
        }
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    return lines;
  }

  private void line(String line) {
    if (line.startsWith("because ")) {
      String[] parts = line.substring(8).split(" \\| ");
      reasons.put(parts[0].strip(), new Reason(parts[1].strip(), parts[2].strip()));
      return;
    }
    String[] words = line.split("\\s+");
    switch (words[0]) {
      case "allow" -> classes.put(words[1], rule(words));
      case "tree" -> packages.put(words[1], true);
      case "deny" -> packages.put(words[1], false);
      case "never" ->
        never.put(words[1], new LinkedHashSet<>(Arrays.asList(words).subList(2, words.length)));
      case "textless" -> textless.addAll(Arrays.asList(words).subList(1, words.length));
      default -> throw new IllegalStateException("allowed.txt: no such kind of line: " + line);
    }
  }

  private static Rule rule(String[] words) {
    Set<String> only = new LinkedHashSet<>();
    Set<String> except = new LinkedHashSet<>();
    Set<String> into = only;
    for (int i = 2; i < words.length; i++) {
      switch (words[i]) {
        case "only" -> into = only;
        case "except" -> into = except;
        default -> into.add(words[i]);
      }
    }
    return new Rule(only, except);
  }

  /** The classes that are named one by one, for the list of JDK 17's members. */
  Set<String> namedClasses() {
    return classes.keySet();
  }

  /** Whether the class may be named at all; dots and {@code $} in the name. */
  boolean allowsType(String className) {
    return classes.containsKey(className) || allowsPackageOf(className);
  }

  /** Whether objects of the class have no text of their own. */
  boolean isTextless(String className) {
    return textless.stream().anyMatch(prefix -> below(className, prefix));
  }

  /** Whether this class's own rule lets the member through. */
  boolean allowsMember(String className, String name, String descriptor) {
    Rule rule = classes.get(className);
    boolean allowed = rule != null ? rule.allows(name, descriptor) : allowsPackageOf(className);
    return allowed && !isNever(className, name, descriptor);
  }

  /** Whether this class's rule names the member as refused, for itself and all that override it. */
  boolean refusesMember(String className, String name, String descriptor) {
    Rule rule = classes.get(className);
    return (rule != null && rule.excepts(name, descriptor)) || isNever(className, name, descriptor);
  }

  /** Whether JDK 17 has the member; true for classes that are not of the JDK. */
  boolean pinned(String className, String name, String descriptor) {
    Set<String> members = pins.get(className);
    return members != null && members.contains(name + descriptor);
  }

  /** Whether members of the class are pinned to those of JDK 17. */
  boolean isPinned(String className) {
    return className.startsWith("java.");
  }

  private boolean isNever(String className, String name, String descriptor) {
    for (Map.Entry<String, Set<String>> one : never.entrySet()) {
      if (below(className, one.getKey()) && has(one.getValue(), name, descriptor)) {
        return true;
      }
    }
    return false;
  }

  private boolean allowsPackageOf(String className) {
    int dot = className.lastIndexOf('.');
    if (dot > 0 && exported.contains(className.substring(0, dot))) {
      return true;
    }
    for (String prefix = className; prefix != null; prefix = shorter(prefix)) {
      Boolean allowed = packages.get(prefix);
      if (allowed != null) {
        return allowed;
      }
    }
    return false;
  }

  /** The reason for refusing a class or member; the longest prefix that has one. */
  Reason reason(String what) {
    Reason best = reasons.get("*");
    int length = 0;
    for (Map.Entry<String, Reason> one : reasons.entrySet()) {
      String prefix = one.getKey();
      if (what.startsWith(prefix) && prefix.length() > length && endsWell(what, prefix)) {
        best = one.getValue();
        length = prefix.length();
      }
    }
    if (best == null) {
      throw new IllegalStateException("allowed.txt has no line: because * | why | instead");
    }
    return best;
  }

  /** A member prefix may end inside a name ({@code Arrays.parallel}); a class name may not. */
  private static boolean endsWell(String what, String prefix) {
    if (what.length() == prefix.length()) {
      return true;
    }
    char next = what.charAt(prefix.length());
    int dot = prefix.lastIndexOf('.');
    boolean member = dot > 0
        && Character.isLowerCase(prefix.charAt(dot + 1))
        && dot > 1
        && prefix.substring(0, dot).matches(".*\\.[A-Z]\\w*");
    return member
        || next == '.'
        || next == '$'
        || prefix.equals("java.lang.Process")
        || prefix.equals("java.lang.Thread");
  }

  private static boolean below(String className, String prefix) {
    return className.equals(prefix)
        || className.startsWith(prefix + ".")
        || className.startsWith(prefix + "$");
  }

  private static @Nullable String shorter(String name) {
    int dot = name.lastIndexOf('.');
    return dot < 0 ? null : name.substring(0, dot);
  }
}
