package org.slabnote.speed;

import java.util.ArrayList;
import java.util.List;

/** Rows of the page of figures. */
final class Page {
  private final List<String> lines = new ArrayList<>();

  void text(String text) {
    lines.add(text);
  }

  void head(String title, String... columns) {
    lines.add("");
    lines.add("## " + title);
    lines.add("");
    if (columns.length > 0) {
      row(columns);
      lines.add("| --- ".repeat(columns.length) + "|");
    }
  }

  void row(String... cells) {
    lines.add("| " + String.join(" | ", cells) + " |");
  }

  @Override
  public String toString() {
    return String.join("\n", lines) + "\n";
  }
}
