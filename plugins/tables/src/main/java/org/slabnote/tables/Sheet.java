package org.slabnote.tables;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.slabnote.api.Doubles;
import org.slabnote.api.Table;
import tech.tablesaw.api.DoubleColumn;
import tech.tablesaw.api.StringColumn;

/** A Tablesaw table in the making, with the decimals that each number column shows. */
final class Sheet {
  private final tech.tablesaw.api.Table table = tech.tablesaw.api.Table.create();
  private final Map<String, Integer> decimals = new LinkedHashMap<>();

  /** Adds a column of text. */
  Sheet text(String name) {
    table.addColumns(StringColumn.create(name));
    return this;
  }

  /** Adds a column of numbers shown with so many decimals. */
  Sheet number(String name, int shown) {
    table.addColumns(DoubleColumn.create(name));
    decimals.put(name, shown);
    return this;
  }

  /** Adds a row: text for text columns, a number (NaN for none) for number columns, in order. */
  void row(Object... cells) {
    if (cells.length != table.columnCount()) {
      throw new IllegalArgumentException(cells.length + " cells; expected " + table.columnCount());
    }
    for (int i = 0; i < cells.length; i++) {
      if (table.column(i) instanceof DoubleColumn numbers) {
        numbers.append(((Number) cells[i]).doubleValue());
      } else {
        ((StringColumn) table.column(i)).append((String) cells[i]);
      }
    }
  }

  /** Returns the Tablesaw table, for sums and sorting. */
  tech.tablesaw.api.Table saw() {
    return table;
  }

  /** Returns the table as the API's value. */
  Table toTable() {
    List<Table.Column> columns = new ArrayList<>();
    for (String name : table.columnNames()) {
      if (decimals.containsKey(name)) {
        columns.add(new Table.Numbers(
            name, Doubles.of(table.doubleColumn(name).asDoubleArray()), decimals.get(name)));
      } else {
        columns.add(new Table.Text(name, table.stringColumn(name).asList()));
      }
    }
    return new Table(columns);
  }
}
