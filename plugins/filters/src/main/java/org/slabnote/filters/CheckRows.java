package org.slabnote.filters;

import java.util.ArrayList;
import java.util.List;
import org.slabnote.api.Doubles;
import org.slabnote.api.Scan;
import org.slabnote.api.Table;

/** Gathers the rows of the acquisition table. */
final class CheckRows {
  static final String WITHIN = "within limit";
  static final String FLAGGED = "flagged";
  static final String NOT_MEASURED = "not measured";

  private final List<List<String>> texts = new ArrayList<>();
  private final List<double[]> numbers = new ArrayList<>();

  /** Adds a row that is flagged where {@code bad}. */
  void add(
      Scan scan,
      String check,
      double value,
      String unit,
      double limit,
      boolean bad,
      String remark) {
    add(scan.pass(), scan.channel(), check, value, unit, limit, bad ? FLAGGED : WITHIN, remark);
  }

  /** Adds a row of something that could not be measured. */
  void missing(Scan scan, String check, String why) {
    add(scan.pass(), scan.channel(), check, Double.NaN, "", Double.NaN, NOT_MEASURED, why);
  }

  void add(
      String pass,
      String channel,
      String check,
      double value,
      String unit,
      double limit,
      String verdict,
      String remark) {
    texts.add(List.of(pass, channel, check, unit, verdict, remark));
    numbers.add(new double[] {value, limit});
  }

  Table table() {
    return new Table(List.of(
        text("pass", 0),
        text("channel", 1),
        text("check", 2),
        number("value", 0),
        text("unit", 3),
        number("limit", 1),
        text("verdict", 4),
        text("remark", 5)));
  }

  private Table.Text text(String name, int i) {
    return new Table.Text(name, texts.stream().map(row -> row.get(i)).toList());
  }

  private Table.Numbers number(String name, int i) {
    return new Table.Numbers(
        name, Doubles.of(numbers.stream().mapToDouble(row -> row[i]).toArray()), 4);
  }
}
