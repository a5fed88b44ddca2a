package org.slabnote.worker.run;

import java.util.ArrayList;
import java.util.List;
import org.slabnote.api.Pick;
import org.slabnote.api.Picks;
import org.slabnote.api.Table;
import org.slabnote.api.quantity.Length;
import org.slabnote.api.quantity.TimeSpan;

/** Reads picks out of a csv block with the columns {@code pass,distance_m,time_ns}. */
final class PicksTable {
  private PicksTable() {}

  static Picks of(String block, Table table) {
    List<String> names = table.columns().stream().map(Table.Column::name).toList();
    if (!names.equals(List.of("pass", "distance_m", "time_ns"))) {
      throw new IllegalArgumentException("csv block " + block + " has the columns "
          + String.join(",", names) + "; picks have pass,distance_m,time_ns");
    }
    List<Pick> picks = new ArrayList<>();
    for (int i = 0; i < table.rows(); i++) {
      picks.add(new Pick(
          table.column("pass").text(i),
          new Length(number(block, table, i, "distance_m")),
          new TimeSpan(number(block, table, i, "time_ns"))));
    }
    return new Picks(block, picks);
  }

  private static double number(String block, Table table, int row, String column) {
    String text = table.column(column).text(row).strip();
    double value;
    try {
      value = Double.parseDouble(text);
    } catch (NumberFormatException e) {
      value = Double.NaN;
    }
    if (Double.isNaN(value) || Double.isInfinite(value)) {
      throw new IllegalArgumentException(
          "csv block " + block + ", row " + (row + 1) + ": " + column + " = "
              + (text.isEmpty() ? "(empty)" : text) + "; expected a number with a decimal point");
    }
    return value;
  }
}
