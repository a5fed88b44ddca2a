package org.slabnote.demo;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.function.Function;

/** Writes what a series of kills gave as a page. */
final class SurvivalReport {
  private static final String HEAD = "## Measured\n";

  private SurvivalReport() {}

  /** Replaces the measured part of a page; what stands above it stays. */
  static void write(Path page, List<Kill> kills, long seconds) throws IOException {
    String before = Files.readString(page);
    int at = before.indexOf(HEAD);
    List<String> lines = new ArrayList<>();
    lines.add(HEAD);
    lines.add(kills.size() + " kills in " + seconds / 60 + " min " + seconds % 60
        + " s, with " + Runtime.getRuntime().availableProcessors() + " processors, Java "
        + Runtime.version().feature() + ", " + System.getProperty("os.name") + " "
        + System.getProperty("os.arch")
        + ". After each: inputs intact, no process left, and the next run "
        + "gave the record byte for byte.\n");
    table(lines, "killed", kills, kill -> kill.whom().words);
    table(lines, "in", kills, kill -> kill.moment().words);
    table(lines, "of", kills, Kill::job);
    table(lines, "exit status of the front", kills, SurvivalReport::status);
    Files.writeString(
        page, before.substring(0, at < 0 ? before.length() : at) + String.join("\n", lines) + "\n");
  }

  private static String status(Kill kill) {
    return kill.whom() == Kill.Whom.WORKER || kill.late()
        ? Integer.toString(kill.status())
        : "killed";
  }

  private static void table(
      List<String> lines, String head, List<Kill> kills, Function<Kill, String> by) {
    SortedMap<String, List<Kill>> groups = new TreeMap<>();
    for (Kill kill : kills) {
      groups.computeIfAbsent(by.apply(kill), key -> new ArrayList<>()).add(kill);
    }
    StringBuilder columns = new StringBuilder("| " + head + " | kills | after the end |");
    for (Kill.State state : states()) {
      columns.append(" record: ").append(state.words).append(" |");
    }
    lines.add(columns.toString());
    lines.add("| --- |" + " ---: |".repeat(2 + states().size()));
    groups.forEach((name, group) -> {
      StringBuilder row = new StringBuilder("| " + name + " | " + group.size() + " | "
          + group.stream().filter(Kill::late).count() + " |");
      for (Kill.State state : states()) {
        row.append(' ')
            .append(group.stream().filter(kill -> kill.record() == state).count())
            .append(" |");
      }
      lines.add(row.toString());
    });
    lines.add("");
  }

  private static List<Kill.State> states() {
    return List.of(Kill.State.NONE, Kill.State.OLD, Kill.State.NEW, Kill.State.HALF);
  }
}
