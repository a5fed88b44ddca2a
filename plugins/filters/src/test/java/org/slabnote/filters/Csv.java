package org.slabnote.filters;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.List;

/** Reads a CSV file beside the tests: one header line, no quotes. */
record Csv(List<String> header, List<String[]> rows) {

  static Csv read(String file) {
    try (InputStream in = Csv.class.getResourceAsStream(file)) {
      List<String> lines =
          new String(in.readAllBytes(), StandardCharsets.US_ASCII).lines().toList();
      List<String[]> rows =
          lines.stream().skip(1).map(line -> line.split(",", -1)).toList();
      return new Csv(List.of(lines.get(0).split(",")), rows);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  double number(int row, String column) {
    return Double.parseDouble(text(row, column));
  }

  String text(int row, String column) {
    return rows.get(row)[header.indexOf(column)];
  }

  float[] column(String column) {
    float[] values = new float[rows.size()];
    for (int i = 0; i < values.length; i++) {
      values[i] = (float) number(i, column);
    }
    return values;
  }
}
