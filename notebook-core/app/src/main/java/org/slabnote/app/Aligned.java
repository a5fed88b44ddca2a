package org.slabnote.app;

import java.util.ArrayList;
import java.util.List;

/** Lays rows of text out in columns, and breaks long text into lines. */
final class Aligned {
  private Aligned() {}

  /**
   * Lays out rows of one length, two spaces between columns, nothing behind the last.
   *
   * @param numbers columns by index that align to the right
   */
  static List<String> lines(List<List<String>> rows, Integer... numbers) {
    int columns = rows.get(0).size();
    int[] width = new int[columns];
    for (List<String> row : rows) {
      for (int i = 0; i < columns; i++) {
        width[i] = Math.max(width[i], row.get(i).codePointCount(0, row.get(i).length()));
      }
    }
    List<Integer> right = List.of(numbers);
    List<String> lines = new ArrayList<>();
    for (List<String> row : rows) {
      StringBuilder line = new StringBuilder();
      for (int i = 0; i < columns; i++) {
        String cell = row.get(i);
        String space = " ".repeat(width[i] - cell.codePointCount(0, cell.length()));
        line.append(i == 0 ? "" : "  ").append(right.contains(i) ? space + cell : cell + space);
      }
      lines.add(line.toString().stripTrailing());
    }
    return lines;
  }

  /** Breaks text at spaces into lines of at most {@code width}, each after {@code indent}. */
  static String wrapped(String text, String indent, int width) {
    StringBuilder out = new StringBuilder();
    StringBuilder line = new StringBuilder(indent);
    for (String word : text.strip().split("\\s+")) {
      if (line.length() > indent.length() && line.length() + 1 + word.length() > width) {
        out.append(line).append('\n');
        line = new StringBuilder(indent);
      }
      line.append(line.length() > indent.length() ? " " : "").append(word);
    }
    return out.append(line).toString();
  }
}
