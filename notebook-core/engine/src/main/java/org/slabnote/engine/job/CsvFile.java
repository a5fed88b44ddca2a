package org.slabnote.engine.job;

import com.fasterxml.jackson.core.JsonToken;
import com.fasterxml.jackson.dataformat.csv.CsvFactory;
import com.fasterxml.jackson.dataformat.csv.CsvParser;
import java.io.IOException;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.Set;
import org.slabnote.engine.problem.Problem;

/** A CSV file (RFC 4180) with a header line and declared columns. */
final class CsvFile {
  private static final CsvFactory FACTORY = CsvFactory.builder()
      .enable(CsvParser.Feature.SKIP_EMPTY_LINES)
      .enable(CsvParser.Feature.TRIM_SPACES)
      .build();

  private final String file;
  private final List<String> required;
  private final List<String> optional;
  private final List<Problem> problems;
  private final List<Row> rows = new ArrayList<>();
  private List<String> columns = List.of();

  /**
   * Reads the file; what is wrong goes to {@code problems}.
   *
   * @param required columns that must be there, in any order
   * @param optional columns that may be there
   */
  CsvFile(
      String file,
      String text,
      List<String> required,
      List<String> optional,
      List<Problem> problems) {
    this.file = file;
    this.required = required;
    this.optional = optional;
    this.problems = problems;
    read(text.startsWith("\uFEFF") ? text.substring(1) : text);
  }

  /** Reads a file whose header may name any columns. */
  static CsvFile ofAnyColumns(String file, String text, List<Problem> problems) {
    return new CsvFile(file, text, List.of(), List.of(), problems);
  }

  /** The columns of the header, in order. */
  List<String> columns() {
    return columns;
  }

  List<Row> rows() {
    return rows;
  }

  private void read(String text) {
    List<List<String>> lines = new ArrayList<>();
    List<Integer> numbers = new ArrayList<>();
    try (CsvParser parser = FACTORY.createParser(text)) {
      for (JsonToken t = parser.nextToken(); t != null; t = parser.nextToken()) {
        if (t == JsonToken.START_ARRAY) {
          lines.add(new ArrayList<>());
          numbers.add(0);
        } else if (t == JsonToken.VALUE_STRING) {
          List<String> line = lines.get(lines.size() - 1);
          if (line.isEmpty()) {
            numbers.set(numbers.size() - 1, parser.currentTokenLocation().getLineNr());
          }
          line.add(parser.getText());
        }
      }
    } catch (IOException e) {
      int line = e instanceof com.fasterxml.jackson.core.JsonProcessingException p
              && p.getLocation() != null
          ? p.getLocation().getLineNr()
          : 0;
      problems.add(Problem.inFile(
          file,
          line,
          "this is not CSV as RFC 4180 has it. Perhaps a quotation mark is not closed"));
      return;
    }
    if (lines.isEmpty()) {
      problems.add(Problem.inFile(
          file,
          0,
          "it is empty; expected a header line"
              + (required.isEmpty() ? "" : " " + String.join(",", required))));
      return;
    }
    if (header(lines.get(0), numbers.get(0))) {
      for (int i = 1; i < lines.size(); i++) {
        row(lines.get(0), lines.get(i), numbers.get(i));
      }
    }
  }

  private boolean header(List<String> names, int line) {
    columns = List.copyOf(names);
    int before = problems.size();
    if (names.size() == 1 && names.get(0).indexOf(';') >= 0) {
      problems.add(Problem.inFile(
          file,
          line,
          "the columns are separated by ; and must be by comma. Export it "
              + "with commas between columns and points in numbers"));
      return false;
    }
    Set<String> seen = new HashSet<>();
    for (String name : names) {
      boolean any = required.isEmpty() && !name.isEmpty();
      if (!any && !required.contains(name) && !optional.contains(name)) {
        problems.add(Problem.inFile(
            file,
            line,
            "column " + name + " is not known; expected "
                + String.join(",", required)
                + (optional.isEmpty() ? "" : ", and where wanted " + String.join(",", optional))
                + ". Put the name right or take the column out"));
      } else if (!seen.add(name)) {
        problems.add(Problem.inFile(
            file,
            line,
            "column " + name + " stands twice; expected once. Take one of the two out"));
      }
    }
    for (String name : required) {
      if (!seen.contains(name)) {
        problems.add(Problem.inFile(
            file,
            line,
            "column " + name + " is missing; expected " + String.join(",", required) + ". Add it"));
      }
    }
    return problems.size() == before;
  }

  private void row(List<String> names, List<String> cells, int line) {
    if (cells.size() != names.size()) {
      problems.add(Problem.inFile(
          file,
          line,
          cells.size() + " values; expected " + names.size()
              + ", one for each column of the header. Add or remove a comma"));
      return;
    }
    Map<String, String> values = new LinkedHashMap<>();
    for (int i = 0; i < names.size(); i++) {
      values.put(names.get(i), cells.get(i));
    }
    rows.add(new Row(line, values));
  }

  /** One line under the header. */
  final class Row {
    private final int line;
    private final Map<String, String> values;

    Row(int line, Map<String, String> values) {
      this.line = line;
      this.values = values;
    }

    int line() {
      return line;
    }

    /** The text of a column; empty where the file has no such column. */
    String text(String column) {
      return values.getOrDefault(column, "");
    }

    /** A text that must not be empty. */
    String name(String column) {
      String value = text(column);
      if (value.isEmpty()) {
        wrong(column, "is empty", "expected a text", "Fill it in");
      }
      return value;
    }

    /** A number within bounds; the lower bound and a problem stated when it is none. */
    double number(String column, double from, double to) {
      OptionalDouble number = optionalNumber(column, from, to);
      if (number.isEmpty() && text(column).isEmpty()) {
        wrong(column, "is empty", "expected " + range(from, to), "Fill it in");
      }
      return number.orElse(from);
    }

    /** A number within bounds, or none where the cell is empty. */
    OptionalDouble optionalNumber(String column, double from, double to) {
      String value = text(column);
      if (value.isEmpty()) {
        return OptionalDouble.empty();
      }
      double number;
      try {
        number = value.matches("[-+0-9.eE]+") ? Double.parseDouble(value) : Double.NaN;
      } catch (NumberFormatException e) {
        number = Double.NaN;
      }
      if (Double.isNaN(number) || Double.isInfinite(number)) {
        wrong(
            column,
            "= " + value,
            "expected a number such as 0.25",
            "Write it with a point, without its unit");
        return OptionalDouble.empty();
      }
      if (number < from || number > to) {
        wrong(
            column,
            "= " + value,
            "expected " + range(from, to),
            "The unit stands in the column's name; put the value right");
        return OptionalDouble.empty();
      }
      return OptionalDouble.of(number);
    }

    void wrong(String column, String what, String expected, String remedy) {
      problems.add(
          Problem.inFile(file, line, column + " " + what + "; " + expected + ". " + remedy));
    }

    private String range(double from, double to) {
      return "a number from " + shown(from) + " to " + shown(to);
    }

    private String shown(double bound) {
      return org.slabnote.api.quantity.Units.plain(bound, 6);
    }
  }
}
