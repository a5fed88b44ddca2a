package org.slabnote.engine.job;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SortedMap;
import java.util.TreeMap;
import org.slabnote.api.Antenna;
import org.slabnote.api.Balance;
import org.slabnote.api.Orientation;
import org.slabnote.api.Point;
import org.slabnote.api.Survey;
import org.slabnote.api.SurveyRow;
import org.slabnote.api.quantity.Angle;
import org.slabnote.api.quantity.Decibel;
import org.slabnote.api.quantity.Frequency;
import org.slabnote.api.quantity.Length;
import org.slabnote.api.quantity.Measured;
import org.slabnote.api.quantity.TimeSpan;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Problem;

/**
 * The survey table, {@code survey.csv}: a row per scan file and antenna orientation.
 *
 * <p>Start and end are those of the antenna midpoint at the first and the last trace, in the slab
 * frame. Dipole angles run from the travel direction. Optional columns: {@code
 * time_zero_ns,time_zero_u_ns} (the time on the file's axis at which the wave leaves the surface, with
 * its standard uncertainty), {@code balance_db,balance_u_db,balance_shift_ns} (across over along on a
 * reflector that treats both alike, and the time of across less that of along), {@code remarks}, and
 * two that the reader of the scan file checks: {@code ragged} (cut or pad) and {@code header_positions}
 * (check or ignore).
 *
 * @since 0.1
 */
public final class SurveyTable {
  /** Columns that must be there. */
  public static final List<String> COLUMNS = List.of(
      "pass",
      "channel",
      "file",
      "tx_deg",
      "rx_deg",
      "x0_m",
      "y0_m",
      "x1_m",
      "y1_m",
      "sample_interval_ns",
      "antenna_offset_m",
      "centre_frequency_mhz");

  /** Columns that may be there. */
  public static final List<String> OPTIONAL = List.of(
      "time_zero_ns",
      "time_zero_u_ns",
      "balance_db",
      "balance_u_db",
      "balance_shift_ns",
      "positions_file",
      "remarks",
      "ragged",
      "header_positions");

  /** Optional columns that are handed to the reader of the scan file as they stand. */
  private static final List<String> HANDED_ON = List.of("remarks", "ragged", "header_positions");

  private static final double FAR_M = 10_000;

  private final String file;
  private final List<Problem> problems = new ArrayList<>();
  private final Map<String, Integer> lineOfPass = new HashMap<>();

  private SurveyTable(String file) {
    this.file = file;
  }

  /**
   * The rows with the lines on which they stand.
   *
   * @param survey the rows
   * @param lines line in the file of each row, from 1
   */
  public record Lines(Survey survey, List<Integer> lines) {
    /** Copies the list. */
    public Lines {
      lines = List.copyOf(lines);
    }
  }

  /**
   * Parses the table.
   *
   * @param file its name, for messages
   * @throws BadInput with every problem, each with line, column and value
   */
  public static Survey parse(String file, String text) throws BadInput {
    return parseWithLines(file, text).survey();
  }

  /**
   * Parses the table and tells on which line each row stands.
   *
   * @param file its name, for messages
   * @throws BadInput with every problem, each with line, column and value
   */
  public static Lines parseWithLines(String file, String text) throws BadInput {
    return new SurveyTable(file).read(text);
  }

  private Lines read(String text) throws BadInput {
    CsvFile csv = new CsvFile(file, text, COLUMNS, OPTIONAL, problems);
    List<SurveyRow> rows = new ArrayList<>();
    List<Integer> lines = new ArrayList<>();
    Sources sources = new Sources(csv.rows());
    for (CsvFile.Row row : csv.rows()) {
      int before = problems.size();
      SurveyRow parsed = row(row, sources);
      if (problems.size() == before) {
        checkOnce(row, parsed);
      }
      rows.add(parsed);
      lines.add(row.line());
    }
    if (rows.isEmpty() && problems.isEmpty()) {
      problems.add(
          Problem.inFile(file, 0, "the table has no rows; expected one for each scan. Add them"));
    }
    if (!problems.isEmpty()) {
      throw new BadInput(problems);
    }
    return new Lines(new Survey(rows), lines);
  }

  private SurveyRow row(CsvFile.Row row, Sources sources) {
    String pass = label(row, "pass");
    String channel = label(row, "channel");
    String path = path(row, "file");
    Angle tx = new Angle(row.number("tx_deg", -360, 360));
    Angle rx = new Angle(row.number("rx_deg", -360, 360));
    Point start = point(row, "x0_m", "y0_m");
    Point end = point(row, "x1_m", "y1_m");
    TimeSpan interval = new TimeSpan(row.number("sample_interval_ns", 0.0001, 10));
    Length offset = new Length(row.number("antenna_offset_m", 0, 5));
    Frequency centre = new Frequency(row.number("centre_frequency_mhz", 1, 20_000));
    SortedMap<String, String> extra = new TreeMap<>();
    String positions = path(row, "positions_file");
    if (!positions.isEmpty()) {
      extra.put("positions_file", positions);
    }
    for (String column : HANDED_ON) {
      if (!row.text(column).isEmpty()) {
        extra.put(column, row.text(column));
      }
    }
    return new SurveyRow(
        pass,
        channel,
        path,
        new Antenna(tx, rx, offset, centre),
        start,
        end,
        interval,
        surface(row, pass, channel, sources),
        balance(row, pass, channel, sources),
        extra);
  }

  private Optional<Measured<TimeSpan>> surface(
      CsvFile.Row row, String pass, String channel, Sources sources) {
    OptionalDouble zero = row.optionalNumber("time_zero_ns", -1000, 1000);
    OptionalDouble u = row.optionalNumber("time_zero_u_ns", 0, 100);
    if (zero.isEmpty()) {
      if (u.isPresent()) {
        row.wrong(
            "time_zero_u_ns",
            "= " + row.text("time_zero_u_ns") + " without a time zero",
            "expected both or neither",
            "Fill in time_zero_ns, or leave both empty");
      }
      return Optional.empty();
    }
    if (u.isEmpty()) {
      row.wrong(
          "time_zero_u_ns",
          "is empty",
          "expected the standard uncertainty of time_zero_ns",
          "Fill it in, or leave both empty and let the notebook find time zero");
      return Optional.empty();
    }
    String source = sources.name("time zero", pass, channel, row);
    return Optional.of(
        Measured.of(new TimeSpan(zero.getAsDouble()), source, new TimeSpan(u.getAsDouble())));
  }

  private Optional<Balance> balance(CsvFile.Row row, String pass, String channel, Sources sources) {
    OptionalDouble gain = row.optionalNumber("balance_db", -60, 60);
    OptionalDouble u = row.optionalNumber("balance_u_db", 0, 60);
    OptionalDouble shift = row.optionalNumber("balance_shift_ns", -100, 100);
    if (gain.isEmpty()) {
      if (u.isPresent() || shift.isPresent()) {
        row.wrong(
            "balance_db",
            "is empty",
            "expected it beside balance_u_db and balance_shift_ns",
            "Fill it in, or leave all three empty");
      }
      return Optional.empty();
    }
    if (u.isEmpty()) {
      row.wrong(
          "balance_u_db",
          "is empty",
          "expected the standard uncertainty of balance_db",
          "Fill it in, or leave all three empty");
      return Optional.empty();
    }
    String source = sources.name("balance", pass, channel, row);
    return Optional.of(new Balance(
        Measured.of(new Decibel(gain.getAsDouble()), source, new Decibel(u.getAsDouble())),
        Measured.exact(new TimeSpan(shift.orElse(0))),
        "stated in " + file));
  }

  /** Channels of one orientation may share a pass where they ran side by side, not in one place. */
  private void checkOnce(CsvFile.Row row, SurveyRow parsed) {
    String channel = parsed.pass() + "|" + parsed.channel();
    Integer before = lineOfPass.putIfAbsent(channel, row.line());
    if (before != null) {
      row.wrong(
          "pass",
          "= " + parsed.pass() + " with channel " + parsed.channel() + " stands in line " + before
              + " already",
          "expected each pass and channel once",
          "Give one of the two another name");
      return;
    }
    Orientation orientation = parsed.antenna().orientation();
    String place = parsed.pass() + "|" + orientation + "|" + parsed.start() + parsed.end();
    before = lineOfPass.putIfAbsent(place, row.line());
    if (before != null && (orientation == Orientation.ACROSS || orientation == Orientation.ALONG)) {
      row.wrong(
          "pass",
          "= " + parsed.pass() + " with orientation " + word(orientation) + " stands in line "
              + before + " already, from and to the same place",
          "expected each pass and orientation once in a place",
          "Give one of the two another pass name, or put its dipole angles right");
    }
  }

  private static String word(Orientation orientation) {
    return orientation.name().toLowerCase(java.util.Locale.ROOT);
  }

  private static Point point(CsvFile.Row row, String x, String y) {
    return Point.of(row.number(x, -FAR_M, FAR_M), row.number(y, -FAR_M, FAR_M));
  }

  private static String label(CsvFile.Row row, String column) {
    String value = row.name(column);
    if (!value.isEmpty() && !value.matches("[\\p{L}\\p{N}][\\p{L}\\p{N} ._+-]*")) {
      row.wrong(
          column,
          "= " + value,
          "expected letters, digits, space and . _ + -, as addresses are " + "made of it",
          "Give it such a name");
    }
    return value;
  }

  private static String path(CsvFile.Row row, String column) {
    String value = column.equals("file") ? row.name(column) : row.text(column);
    boolean outside = value.startsWith("/")
        || value.contains("\\")
        || value.contains(":")
        || List.of(value.split("/")).contains("..");
    if (outside) {
      row.wrong(
          column,
          "= " + value,
          "expected a path below the folder scans, with / between folders",
          "Copy the scan there and name it from there");
    }
    return value;
  }

  /**
   * Names uncertainty sources: what a channel states once, the same in every row, is one source for
   * all its passes; else each pass has its own.
   */
  private static final class Sources {
    private final Map<String, String> statedByChannel = new HashMap<>();
    private final java.util.Set<String> various = new java.util.HashSet<>();

    Sources(List<CsvFile.Row> rows) {
      for (CsvFile.Row row : rows) {
        for (String label : List.of("time zero", "balance")) {
          String key = row.text("channel") + "#" + label;
          String before = statedByChannel.putIfAbsent(key, stated(label, row));
          if (before != null && !before.equals(stated(label, row))) {
            various.add(key);
          }
        }
      }
    }

    private static String stated(String label, CsvFile.Row row) {
      return label.equals("balance")
          ? row.text("balance_db") + "|" + row.text("balance_u_db")
          : row.text("time_zero_ns") + "|" + row.text("time_zero_u_ns");
    }

    String name(String label, String pass, String channel, CsvFile.Row row) {
      boolean shared = !various.contains(row.text("channel") + "#" + label);
      return "survey/" + channel + (shared ? "" : "/" + pass) + "#" + label;
    }
  }
}
