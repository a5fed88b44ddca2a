package org.slabnote.engine.gate;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.regex.Pattern;
import org.apache.commons.math3.util.FastMath;
import org.junit.jupiter.api.Test;
import org.slabnote.api.Notebook;
import tech.tablesaw.api.Table;

/**
 * What the allow-list lets through of Commons Math, Tablesaw and the plugin API reaches nothing that a
 * cell may not reach, but by the ways that {@code reached.txt} explains. Source: the class files of the
 * libraries that cells run with.
 */
class LibraryReachTest {
  private record Explained(String word, Pattern way, String line) {}

  @Test
  void everyWayFromAnAllowedMemberIsExplained() throws Exception {
    List<Explained> explained = explained();
    Set<Explained> used = new HashSet<>();
    List<String> unexplained = new ArrayList<>();
    int roots = 0;
    for (Class<?> one : List.of(FastMath.class, Table.class, Notebook.class)) {
      LibraryReach reach = new LibraryReach(AllowList.standard(List.of()), Cells.home(one));
      roots += reach.roots().size();
      for (String way : reach.ways()) {
        String word = way.substring(0, way.indexOf(':'));
        List<Explained> by = explained.stream()
            .filter(e -> e.word().equals(word) && e.way().matcher(way).find())
            .toList();
        used.addAll(by);
        if (by.isEmpty()) {
          unexplained.add(way);
        }
      }
    }
    assertThat(roots).isGreaterThan(6000);
    assertThat(unexplained).isEmpty();
    assertThat(explained.stream().filter(e -> !used.contains(e)).map(Explained::line))
        .as("lines of reached.txt that explain nothing")
        .isEmpty();
  }

  private static List<Explained> explained() throws IOException {
    try (var in = LibraryReachTest.class.getResourceAsStream("reached.txt")) {
      return new String(in.readAllBytes(), StandardCharsets.UTF_8)
          .lines()
          .filter(line -> !line.isBlank() && !line.startsWith("#"))
          .map(line -> {
            int first = line.indexOf(" | ");
            int last = line.lastIndexOf(" | ");
            return new Explained(
                line.substring(0, first), Pattern.compile(line.substring(first + 3, last)), line);
          })
          .toList();
    }
  }
}
