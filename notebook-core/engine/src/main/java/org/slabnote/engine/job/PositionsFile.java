package org.slabnote.engine.job;

import java.util.ArrayList;
import java.util.List;
import java.util.SortedMap;
import java.util.TreeMap;
import org.slabnote.api.Point;
import org.slabnote.api.SurveyRow;
import org.slabnote.api.quantity.Units;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Problem;

/**
 * Where each trace of a pass was taken: {@code trace,x_m,y_m}, one line for each trace, from 1, in
 * order. The first and the last place are the start and the end that the survey table states, within
 * 20 mm (common practice, no source).
 *
 * @since 0.1
 */
public final class PositionsFile {
  private static final List<String> COLUMNS = List.of("trace", "x_m", "y_m");
  private static final double FAR_M = 10_000;
  private static final double TOLERANCE_M = 0.02;

  private PositionsFile() {}

  /**
   * Places a row's traces.
   *
   * @param file the file's name, for messages
   * @param text the file
   * @param row the row that names it
   * @return the row with the places of its traces
   * @throws BadInput with every problem, each with line, column and value
   */
  public static SurveyRow place(String file, String text, SurveyRow row) throws BadInput {
    SortedMap<String, String> extra = new TreeMap<>(row.extra());
    extra.put(SurveyRow.POSITIONS, parse(file, text, row));
    return new SurveyRow(
        row.pass(),
        row.channel(),
        row.file(),
        row.antenna(),
        row.start(),
        row.end(),
        row.interval(),
        row.surface(),
        row.balance(),
        extra);
  }

  /** The places as {@link SurveyRow#POSITIONS} has them. */
  private static String parse(String file, String text, SurveyRow row) throws BadInput {
    List<Problem> problems = new ArrayList<>();
    CsvFile csv = new CsvFile(file, text, COLUMNS, List.of(), problems);
    List<String> places = new ArrayList<>();
    Point first = row.start();
    Point last = row.end();
    for (CsvFile.Row one : csv.rows()) {
      double x = one.number("x_m", -FAR_M, FAR_M);
      double y = one.number("y_m", -FAR_M, FAR_M);
      int trace = places.size() + 1;
      if (!one.text("trace").equals(Integer.toString(trace))) {
        one.wrong(
            "trace",
            "= " + one.text("trace"),
            "expected " + trace + ": a line for each trace, from 1, in order",
            "Sort the lines, and leave none out");
        break;
      }
      places.add(one.text("x_m") + " " + one.text("y_m"));
      last = Point.of(x, y);
      first = trace == 1 ? last : first;
    }
    if (problems.isEmpty() && places.isEmpty()) {
      problems.add(Problem.inFile(file, 0, "no places; expected a line for each trace. Add them"));
    }
    if (problems.isEmpty()) {
      check(file, 2, "first", first, row.start(), problems);
      check(file, 1 + places.size(), "last", last, row.end(), problems);
    }
    if (!problems.isEmpty()) {
      throw new BadInput(problems);
    }
    return String.join(";", places);
  }

  private static void check(
      String file, int line, String which, Point place, Point stated, List<Problem> problems) {
    double off = place.to(stated).value();
    if (off > TOLERANCE_M) {
      problems.add(Problem.inFile(
          file,
          line,
          "the " + which + " place lies " + Units.plain(off * 1000, 3) + " mm from where "
              + Job.SURVEY + " has it; expected at most 20 mm. Put one of the two right"));
    }
  }
}
