package org.slabnote.methods;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;

/** Reference tables of the tests: one header line, comma separated; an empty cell is NaN. */
public final class Csv {
  private final String name;
  private final List<String> header;
  private final List<String[]> rows;

  private Csv(String name, List<String> header, List<String[]> rows) {
    this.name = name;
    this.header = header;
    this.rows = rows;
  }

  public static Csv read(String name) {
    try (InputStream in = Csv.class.getResourceAsStream(name)) {
      if (in == null) {
        throw new IllegalStateException(name + ": no such reference table");
      }
      String[] lines = new String(in.readAllBytes(), StandardCharsets.US_ASCII).split("\n");
      List<String[]> rows = new ArrayList<>();
      for (int i = 1; i < lines.length; i++) {
        rows.add(lines[i].strip().split(",", -1));
      }
      if (rows.isEmpty()) {
        throw new IllegalStateException(name + ": no rows");
      }
      return new Csv(name, List.of(lines[0].strip().split(",", -1)), rows);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  public int size() {
    return rows.size();
  }

  public String text(int row, String column) {
    int index = header.indexOf(column);
    if (index < 0) {
      throw new IllegalArgumentException(name + ": no column " + column + " in " + header);
    }
    return rows.get(row)[index];
  }

  public double number(int row, String column) {
    String text = text(row, column);
    return text.isEmpty() ? Double.NaN : Double.parseDouble(text);
  }

  public double[] column(String column) {
    double[] values = new double[size()];
    for (int i = 0; i < values.length; i++) {
      values[i] = number(i, column);
    }
    return values;
  }
}
