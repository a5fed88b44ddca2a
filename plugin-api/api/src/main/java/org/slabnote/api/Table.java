package org.slabnote.api;

import java.util.ArrayList;
import java.util.List;
import org.slabnote.api.quantity.Units;

/**
 * An immutable table; units stand in the column names ({@code depth_m}).
 *
 * @param columns columns of one size, with different names
 * @since 0.1
 */
public record Table(List<Column> columns) {

  /**
   * Checks sizes and names.
   *
   * @throws IllegalArgumentException if two columns differ in size or share a name
   */
  public Table {
    columns = List.copyOf(columns);
    List<String> names = new ArrayList<>();
    for (Column c : columns) {
      if (names.contains(c.name())) {
        throw new IllegalArgumentException(
            "table with two columns named " + c.name() + "; expected one");
      }
      if (c.size() != columns.get(0).size()) {
        throw new IllegalArgumentException(
            "column " + c.name() + " has " + c.size() + " rows; expected "
                + columns.get(0).size() + " as in " + columns.get(0).name());
      }
      names.add(c.name());
    }
  }

  /** Returns the number of rows. */
  public int rows() {
    return columns.isEmpty() ? 0 : columns.get(0).size();
  }

  /**
   * Returns a column.
   *
   * @throws IllegalArgumentException if there is none of this name; the message lists the names
   */
  public Column column(String name) {
    for (Column c : columns) {
      if (c.name().equals(name)) {
        return c;
      }
    }
    throw new IllegalArgumentException("no column " + name + "; the table has "
        + String.join(", ", columns.stream().map(Column::name).toList()));
  }

  /** Returns the table as CSV (RFC 4180, LF line ends), a header line first. */
  public String csv() {
    StringBuilder out = new StringBuilder();
    line(out, columns.stream().map(Column::name).toList());
    for (int i = 0; i < rows(); i++) {
      int row = i;
      line(out, columns.stream().map(c -> c.text(row)).toList());
    }
    return out.toString();
  }

  private static void line(StringBuilder out, List<String> cells) {
    for (int i = 0; i < cells.size(); i++) {
      String cell = cells.get(i);
      boolean quote = cell.chars().anyMatch(c -> c == ',' || c == '"' || c == '\n' || c == '\r');
      out.append(i == 0 ? "" : ",").append(quote ? '"' + cell.replace("\"", "\"\"") + '"' : cell);
    }
    out.append('\n');
  }

  /**
   * A column.
   *
   * @since 0.1
   */
  public sealed interface Column permits Text, Numbers {
    /** Returns the name, with the unit at its end. */
    String name();

    /** Returns the number of rows. */
    int size();

    /** Returns the cell of a row as text; empty where there is none. */
    String text(int row);
  }

  /**
   * A column of text.
   *
   * @param name name
   * @param cells cells, empty text where there is none
   * @since 0.1
   */
  public record Text(String name, List<String> cells) implements Column {
    /** Copies the list. */
    public Text {
      cells = List.copyOf(cells);
    }

    @Override
    public int size() {
      return cells.size();
    }

    @Override
    public String text(int row) {
      return cells.get(row);
    }
  }

  /**
   * A column of numbers.
   *
   * @param name name, with the unit at its end
   * @param cells numbers; NaN where there is none
   * @param decimals decimals shown, 0 to 12
   * @since 0.1
   */
  public record Numbers(String name, Doubles cells, int decimals) implements Column {
    @Override
    public int size() {
      return cells.size();
    }

    @Override
    public String text(int row) {
      double v = cells.get(row);
      return Double.isNaN(v) ? "" : Units.fixed(v, decimals);
    }
  }
}
