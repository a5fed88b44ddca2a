package org.slabnote.engine.compiler;

import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Makes one line of the Java compiler's message.
 *
 * <p>Package names go, the names of the wrappers go; a missing name is put behind the message; of a
 * list of candidates only those stay that have the right number of arguments, with what does not fit.
 */
final class PlainMessage {
  private static final Pattern WRAPPER = Pattern.compile("REPL\\.\\$JShell\\$\\w+\\.?");
  private static final Pattern PACKAGES =
      Pattern.compile("(?<![\\w.$])(?:[a-z][a-z0-9_]*\\.)+(?=[A-Z])");
  private static final Pattern CANDIDATE =
      Pattern.compile("^(?:constructor|method) (.+) is not applicable$");
  private static final Pattern DOUBLED = Pattern.compile("\\b([A-Z]\\w*)\\.(?:<[^(]*>)?\\1\\(");
  private static final Pattern INFERRED =
      Pattern.compile("inference variable \\w+ has incompatible (?:equality constraints|bounds) "
          + "([^,<]+(?:<.*>)?),([^,<]+(?:<.*>)?)$");
  private static final Pattern TO_QUANTITY = Pattern.compile(
      "cannot be converted to (Length|TimeSpan|Frequency|Velocity|Angle|Decibel|Ratio)$");
  /** How a quantity is written: with its unit. */
  private static final Map<String, String> WRITTEN = Map.of(
      "Length", "mm(16)",
      "TimeSpan", "ns(1.2)",
      "Frequency", "MHz(2000)",
      "Velocity", "mPerNs(0.11)",
      "Angle", "deg(45)",
      "Decibel", "dB(3)",
      "Ratio", "ratio(7)");

  private static final int MOST_CANDIDATES = 5;

  private PlainMessage() {}

  static String of(String message) {
    String plain = plain(message);
    Matcher quantity = TO_QUANTITY.matcher(plain);
    return quantity.find()
        ? plain + ". Expected is one such as " + WRITTEN.get(quantity.group(1))
        : plain;
  }

  private static String plain(String message) {
    String plain = WRAPPER.matcher(message).replaceAll("");
    plain = PACKAGES.matcher(plain).replaceAll("");
    plain = DOUBLED.matcher(plain).replaceAll("$1(");
    List<String> lines = new ArrayList<>();
    for (String line : plain.split("\\R")) {
      String stripped = line.strip().replaceAll("\\s+", " ");
      if (!stripped.isEmpty()
          && !stripped.startsWith("where ")
          && !stripped.equals("location: class")) {
        lines.add(stripped);
      }
    }
    if (lines.isEmpty()) {
      return "the compiler says no more";
    }
    String first = lines.get(0);
    if (first.startsWith("cannot find symbol")) {
      return missing(lines);
    }
    if (first.startsWith("no suitable ")) {
      return unsuitable(lines);
    }
    if (first.contains(" cannot be applied to given types")) {
      return unsuited(lines);
    }
    if (first.startsWith("bad operand types")) {
      return first.replace("types for", "types of") + ": " + part(lines, "first type:") + " and "
          + part(lines, "second type:")
          + ". Quantities have the methods plus, minus, times and over";
    }
    if (first.startsWith("reached end of file")) {
      return "the statement does not end. Perhaps a ; or a closing bracket is missing";
    }
    Matcher inferred = INFERRED.matcher(first);
    if (inferred.find()) {
      return "incompatible types: " + inferred.group(1) + " and " + inferred.group(2)
          + " do not go together";
    }
    return String.join("; ", lines);
  }

  /** What is behind a word such as {@code found:}; empty where there is no such line. */
  private static String part(List<String> lines, String word) {
    for (String line : lines) {
      if (line.startsWith(word)) {
        return line.substring(word.length()).strip();
      }
    }
    return "";
  }

  private static String unsuited(List<String> lines) {
    String what = lines.get(0).replaceFirst(" cannot be applied to given types;?", "");
    what = what.replaceFirst("^constructor (\\w+) in \\w+ \\1$", "constructor $1");
    String required = part(lines, "required:").replace("no arguments", "");
    String found = part(lines, "found:").replace("no arguments", "");
    String mismatch = part(lines, "reason:").replaceFirst(".*argument mismatch; (.*?)\\)?$", "$1");
    boolean told = mismatch.contains("converted");
    String message =
        what + " takes (" + required + "), not (" + found + ")" + (told ? ": " + mismatch : "");
    return message.contains("takes (Operation<")
        ? message + ". Perhaps it is a filter: state it behind a step, step.then(...)"
        : message;
  }

  private static String missing(List<String> lines) {
    StringBuilder out = new StringBuilder("cannot find symbol");
    for (String line : lines) {
      if (line.startsWith("symbol:")) {
        out.append(": ").append(line.substring(7).strip());
      } else if (line.startsWith("location:")) {
        String where = line.substring(9).strip();
        out.append(" in ").append(where);
      }
    }
    return out.toString();
  }

  private static String unsuitable(List<String> lines) {
    Set<String> mismatches = new LinkedHashSet<>();
    Set<String> candidates = new LinkedHashSet<>();
    for (int i = 1; i < lines.size(); i++) {
      Matcher candidate = CANDIDATE.matcher(lines.get(i));
      if (!candidate.matches()) {
        continue;
      }
      candidates.add(candidate.group(1));
      String reason = i + 1 < lines.size() ? lines.get(i + 1) : "";
      if (reason.contains("argument mismatch")) {
        String what = reason.replaceFirst("^\\(argument mismatch; ", "").replaceFirst("\\)$", "");
        mismatches.add(candidate.group(1) + ": " + what);
      }
    }
    if (!mismatches.isEmpty()) {
      return lines.get(0) + "; " + some(mismatches);
    }
    return candidates.isEmpty()
        ? String.join("; ", lines)
        : lines.get(0) + "; there are " + some(candidates);
  }

  private static String some(Set<String> all) {
    List<String> list = new ArrayList<>(all);
    return list.size() <= MOST_CANDIDATES
        ? String.join(", ", list)
        : String.join(", ", list.subList(0, MOST_CANDIDATES))
            + " and "
            + (list.size() - MOST_CANDIDATES)
            + " more";
  }
}
