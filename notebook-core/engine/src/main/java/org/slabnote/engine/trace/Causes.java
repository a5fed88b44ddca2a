package org.slabnote.engine.trace;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;

/** What made a step or statement another, each cause once, in order. */
final class Causes {
  /** Sorts of cause. */
  enum Kind {
    /** The cell was edited. */
    EDITED,
    /** The cell is new. */
    NEW,
    /** The cell is gone. */
    GONE,
    /** A parameter that the cell states is another. */
    PARAMETER,
    /** A scan file is another. */
    SCAN,
    /** Anything else, in words. */
    WORDS
  }

  /**
   * A cause.
   *
   * @param kind sort
   * @param subject cell, or pass of the scan; empty for words
   * @param words for {@code PARAMETER}, {@code WORDS}, and after the sentence of {@code NEW} and {@code
   *     GONE}
   * @param file file of the job that it came from; empty for none
   */
  record Cause(Kind kind, String subject, String words, String file) {
    static Cause edited(String cell) {
      return new Cause(Kind.EDITED, cell, "", "");
    }

    static Cause words(String words, String file) {
      return new Cause(Kind.WORDS, "", words, file);
    }
  }

  private static final int MOST_SCANS = 4;
  private static final int MOST = 3;

  private final Set<Cause> all = new LinkedHashSet<>();

  boolean add(Cause cause) {
    return all.add(cause);
  }

  boolean addAll(Causes others) {
    return all.addAll(others.all);
  }

  boolean isEmpty() {
    return all.isEmpty();
  }

  Set<Cause> all() {
    return all;
  }

  /** The causes as a cell is told them: its own first, many of a kind put together. */
  List<String> words(String cell) {
    Map<String, Boolean> words = new LinkedHashMap<>();
    boolean parameter = all.stream().anyMatch(c -> own(c, cell, Kind.PARAMETER));
    for (Cause one : all) {
      boolean said = own(one, cell, Kind.EDITED) && parameter;
      if (one.subject().equals(cell) && one.kind() != Kind.SCAN && !said) {
        words.put(ofCell(one, true), true);
      }
    }
    List<String> scans = new ArrayList<>();
    for (Cause one : all) {
      if (one.kind() == Kind.SCAN) {
        scans.add(one.subject());
      }
    }
    if (!scans.isEmpty()) {
      words.put(scans(scans), true);
    }
    for (Cause one : all) {
      if (one.kind() == Kind.WORDS) {
        words.put(one.words(), true);
      } else if (one.kind() != Kind.SCAN && !one.subject().equals(cell)) {
        words.put(ofCell(one, false), true);
      }
    }
    List<String> told = new ArrayList<>(words.keySet());
    if (told.size() > MOST) {
      int more = told.size() - MOST;
      told = new ArrayList<>(told.subList(0, MOST));
      told.add("and " + more + (more == 1 ? " more reason" : " more reasons"));
    }
    return told;
  }

  private static boolean own(Cause one, String cell, Kind kind) {
    return one.kind() == kind && one.subject().equals(cell);
  }

  private static String ofCell(Cause one, boolean own) {
    String name = "cell `" + one.subject() + "`";
    return switch (one.kind()) {
      case NEW -> (own ? "it is new" : name + " is new") + one.words();
      case GONE -> name + one.words();
      case PARAMETER -> own ? one.words() : name + " was edited";
      default -> own ? "it was edited" : name + " was edited";
    };
  }

  private static String scans(List<String> names) {
    if (names.size() == 1) {
      return "scan " + names.get(0) + " changed";
    }
    if (names.size() <= MOST_SCANS) {
      return "scans " + String.join(", ", names) + " changed";
    }
    return "scans " + String.join(", ", names.subList(0, MOST_SCANS - 1)) + " and "
        + (names.size() - MOST_SCANS + 1) + " more changed";
  }
}
