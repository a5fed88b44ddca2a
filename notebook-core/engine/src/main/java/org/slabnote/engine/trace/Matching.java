package org.slabnote.engine.trace;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;

/** Which statement of now is which statement of the run, and which have no other. */
final class Matching {
  private final List<Stated> was;
  private final List<Stated> now;
  /** Number of the old statement by the number of the new one. */
  private final Map<Integer, Integer> oldOf = new TreeMap<>();
  /** New statements that do what their old ones did. */
  private final Set<Integer> same = new LinkedHashSet<>();

  private final Set<Integer> removed = new LinkedHashSet<>();

  Matching(List<Stated> was, List<Stated> now) {
    this.was = was;
    this.now = now;
    Map<String, List<Integer>> old = byCell(was);
    byCell(now).forEach((cell, numbers) -> match(old.getOrDefault(cell, List.of()), numbers));
    for (int i = 0; i < was.size(); i++) {
      if (!was.get(i).isImport() && !oldOf.containsValue(i)) {
        removed.add(i);
      }
    }
  }

  /** The old statement's number; -1 where there is none. */
  int old(int number) {
    return oldOf.getOrDefault(number, -1);
  }

  boolean isSame(int number) {
    return now.get(number).isImport() || same.contains(number);
  }

  /** Numbers of old statements that are there no more. */
  Set<Integer> removed() {
    return removed;
  }

  private static Map<String, List<Integer>> byCell(List<Stated> statements) {
    Map<String, List<Integer>> byCell = new HashMap<>();
    for (int i = 0; i < statements.size(); i++) {
      if (!statements.get(i).isImport()) {
        byCell
            .computeIfAbsent(statements.get(i).cell(), cell -> new ArrayList<>())
            .add(i);
      }
    }
    return byCell;
  }

  private void match(List<Integer> before, List<Integer> after) {
    List<Integer> oldLeft = new ArrayList<>(before);
    List<Integer> newLeft = new ArrayList<>(after);
    int[][] common = common(before, after);
    int i = 0;
    int j = 0;
    while (i < before.size() && j < after.size()) {
      if (alike(before.get(i), after.get(j))) {
        pair(before.get(i++), after.get(j++), oldLeft, newLeft);
      } else if (common[i + 1][j] >= common[i][j + 1]) {
        i++;
      } else {
        j++;
      }
    }
    for (Integer number : List.copyOf(newLeft)) { // moved within the cell
      oldLeft.stream()
          .filter(one -> alike(one, number))
          .findFirst()
          .ifPresent(one -> pair(one, number, oldLeft, newLeft));
    }
    for (Integer number : List.copyOf(newLeft)) { // defines the same name another way
      String name = now.get(number).defines();
      oldLeft.stream()
          .filter(one -> !name.isEmpty() && was.get(one).defines().equals(name))
          .findFirst()
          .ifPresent(one -> pair(one, number, oldLeft, newLeft));
    }
    oldLeft.removeIf(one -> !was.get(one).defines().isEmpty());
    newLeft.removeIf(one -> !now.get(one).defines().isEmpty());
    if (oldLeft.size() == newLeft.size()) { // edited in place
      for (int k = 0; k < oldLeft.size(); k++) {
        oldOf.put(newLeft.get(k), oldLeft.get(k));
      }
    }
  }

  /** Lengths of the longest common sequences from i and j on. */
  private int[][] common(List<Integer> before, List<Integer> after) {
    int[][] common = new int[before.size() + 1][after.size() + 1];
    for (int i = before.size() - 1; i >= 0; i--) {
      for (int j = after.size() - 1; j >= 0; j--) {
        common[i][j] = alike(before.get(i), after.get(j))
            ? common[i + 1][j + 1] + 1
            : Math.max(common[i + 1][j], common[i][j + 1]);
      }
    }
    return common;
  }

  private boolean alike(int before, int after) {
    return was.get(before).sign().equals(now.get(after).sign());
  }

  private void pair(Integer before, Integer after, List<Integer> oldLeft, List<Integer> newLeft) {
    oldOf.put(after, before);
    if (alike(before, after)) {
      same.add(after);
    }
    oldLeft.remove(before);
    newLeft.remove(after);
  }
}
