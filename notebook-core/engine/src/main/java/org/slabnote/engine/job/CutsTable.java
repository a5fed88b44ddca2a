package org.slabnote.engine.job;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.SortedMap;
import org.slabnote.api.Cut;
import org.slabnote.api.Point;
import org.slabnote.api.TargetClass;
import org.slabnote.api.quantity.Length;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Problem;

/**
 * The proposed cuts, {@code cuts.csv}. {@code kind} is core, drill or saw; a saw cut has both ends, a
 * core or drill hole only its centre; {@code diameter_m} is the bore, or the width of a saw cut;
 * {@code room_m} is how far it may be moved, empty where it may not.
 *
 * @since 0.1
 */
public final class CutsTable {
  /** The columns. */
  public static final List<String> COLUMNS =
      List.of("name", "kind", "x_m", "y_m", "x2_m", "y2_m", "diameter_m", "depth_m", "room_m");

  private static final double FAR_M = 10_000;

  private CutsTable() {}

  /**
   * Parses the table.
   *
   * @param file its name, for messages
   * @param required required clearance by class, from the job sheet
   * @throws BadInput with every problem, each with line, column and value
   */
  public static List<Cut> parse(String file, String text, SortedMap<TargetClass, Length> required)
      throws BadInput {
    List<Problem> problems = new ArrayList<>();
    CsvFile csv = new CsvFile(file, text, COLUMNS, List.of(), problems);
    List<Cut> cuts = new ArrayList<>();
    Map<String, Integer> lineOf = new HashMap<>();
    for (CsvFile.Row row : csv.rows()) {
      Cut cut = cut(row, required);
      Integer before = lineOf.putIfAbsent(cut.name(), row.line());
      if (before != null) {
        row.wrong(
            "name",
            "= " + cut.name() + " stands in line " + before + " already",
            "expected each name once",
            "Give one of the two another name");
      }
      cuts.add(cut);
    }
    if (!problems.isEmpty()) {
      throw new BadInput(problems);
    }
    return cuts;
  }

  private static Cut cut(CsvFile.Row row, SortedMap<TargetClass, Length> required) {
    String name = row.name("name");
    Cut.Kind kind = kind(row);
    Point start = Point.of(row.number("x_m", -FAR_M, FAR_M), row.number("y_m", -FAR_M, FAR_M));
    Point end = start;
    if (kind == Cut.Kind.SAW) {
      end = Point.of(row.number("x2_m", -FAR_M, FAR_M), row.number("y2_m", -FAR_M, FAR_M));
    } else if (!row.text("x2_m").isEmpty() || !row.text("y2_m").isEmpty()) {
      row.wrong(
          "x2_m",
          "= " + row.text("x2_m") + ", y2_m = " + row.text("y2_m") + " beside kind = "
              + row.text("kind"),
          "expected both empty: only a saw cut has a second end",
          "Empty them, or write saw");
    }
    Length diameter = new Length(row.number("diameter_m", 0.0005, 5));
    Length depth = new Length(row.number("depth_m", 0.001, 20));
    OptionalDouble room = row.optionalNumber("room_m", 0, 100);
    return new Cut(name, kind, start, end, diameter, depth, new Length(room.orElse(0)), required);
  }

  private static Cut.Kind kind(CsvFile.Row row) {
    for (Cut.Kind kind : Cut.Kind.values()) {
      if (kind.name().toLowerCase(Locale.ROOT).equals(row.text("kind"))) {
        return kind;
      }
    }
    row.wrong("kind", "= " + row.text("kind"), "expected core, drill or saw", "Write one of them");
    return Cut.Kind.CORE;
  }
}
