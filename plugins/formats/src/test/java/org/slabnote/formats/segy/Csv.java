package org.slabnote.formats.segy;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** Reads the small tables beside the tests: a head line, commas, double quotes. */
final class Csv {
  private Csv() {}

  static byte[] resource(String name) {
    try (InputStream in = Csv.class.getResourceAsStream(name)) {
      if (in == null) {
        throw new IllegalStateException("no test resource " + name);
      }
      return in.readAllBytes();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  static List<Map<String, String>> rows(String name) {
    return rows(new String(resource(name), StandardCharsets.UTF_8).lines().toList());
  }

  static List<Map<String, String>> rows(List<String> lines) {
    List<String> head = cells(lines.get(0));
    List<Map<String, String>> rows = new ArrayList<>();
    for (String line : lines.subList(1, lines.size())) {
      List<String> cells = cells(line);
      Map<String, String> row = new LinkedHashMap<>();
      for (int i = 0; i < head.size(); i++) {
        row.put(head.get(i), cells.get(i));
      }
      rows.add(row);
    }
    return rows;
  }

  private static List<String> cells(String line) {
    List<String> cells = new ArrayList<>();
    StringBuilder cell = new StringBuilder();
    boolean quoted = false;
    for (char c : line.toCharArray()) {
      if (c == '"') {
        quoted = !quoted;
      } else if (c == ',' && !quoted) {
        cells.add(cell.toString());
        cell.setLength(0);
      } else {
        cell.append(c);
      }
    }
    cells.add(cell.toString());
    return cells;
  }
}
