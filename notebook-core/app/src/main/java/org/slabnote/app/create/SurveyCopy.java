package org.slabnote.app.create;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.MappingIterator;
import com.fasterxml.jackson.dataformat.csv.CsvMapper;
import com.fasterxml.jackson.dataformat.csv.CsvParser;
import java.io.IOException;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.BiConsumer;
import org.slabnote.api.Table;

/**
 * The survey table as it goes into the job, and where the scans that it names lie.
 *
 * <p>The text stays as given unless a file lies outside the survey table's own folder; then that cell
 * becomes the file's plain name, as the job has it in {@code scans}.
 *
 * @param text the table
 * @param sources where each file lies, by its name in {@code text}
 */
record SurveyCopy(String text, Map<String, Path> sources) {

  private static final List<String> COLUMNS = List.of("file", "positions_file");

  /** Reads the columns that name files; what is wrong with the table is told by its parser. */
  static SurveyCopy of(Path survey, String text) {
    List<List<String>> rows = rows(text);
    Map<String, Path> sources = new HashMap<>();
    if (rows.isEmpty() || new HashSet<>(rows.get(0)).size() < rows.get(0).size()) {
      return new SurveyCopy(text, sources);
    }
    List<Integer> columns = COLUMNS.stream()
        .map(name -> rows.get(0).indexOf(name))
        .filter(column -> column >= 0)
        .toList();
    List<List<String>> body = rows.subList(1, rows.size());
    Set<String> taken = new HashSet<>();
    each(body, columns, false, (row, column) -> {
      taken.add(row.get(column));
      place(sources, survey, row.get(column), row.get(column));
    });
    Map<String, String> renamed = new HashMap<>();
    each(body, columns, true, (row, column) -> {
      String stated = row.get(column);
      String name = renamed.computeIfAbsent(stated, s -> free(s, taken));
      taken.add(name);
      place(sources, survey, name, stated);
      row.set(column, name);
    });
    return new SurveyCopy(renamed.isEmpty() ? text : csv(rows), sources);
  }

  /** Visits the cells that name a file inside, or outside, the survey table's folder. */
  private static void each(
      List<List<String>> body,
      List<Integer> columns,
      boolean outside,
      BiConsumer<List<String>, Integer> visit) {
    for (List<String> row : body) {
      for (int column : columns) {
        if (column < row.size()
            && !row.get(column).isEmpty()
            && outside(row.get(column)) == outside) {
          visit.accept(row, column);
        }
      }
    }
  }

  private static void place(Map<String, Path> sources, Path survey, String name, String stated) {
    try {
      Path file = Path.of(stated.replace('\\', '/'));
      Path beside = survey.getParent();
      sources.put(name, beside == null ? file : beside.resolve(file).normalize());
    } catch (InvalidPathException e) {
      return; // the file is then reported as missing, by its name
    }
  }

  private static boolean outside(String file) {
    return file.startsWith("/")
        || file.contains("\\")
        || file.contains(":")
        || List.of(file.split("/")).contains("..");
  }

  private static String free(String stated, Set<String> taken) {
    String plain =
        stated.substring(Math.max(stated.lastIndexOf('/'), stated.lastIndexOf('\\')) + 1);
    String name = plain;
    for (int i = 2; taken.contains(name); i++) {
      name = i + "-" + plain;
    }
    return name;
  }

  private static List<List<String>> rows(String text) {
    CsvMapper mapper = CsvMapper.builder()
        .enable(CsvParser.Feature.WRAP_AS_ARRAY)
        .enable(CsvParser.Feature.TRIM_SPACES)
        .enable(CsvParser.Feature.SKIP_EMPTY_LINES)
        .build();
    List<List<String>> rows = new ArrayList<>();
    String plain = text.startsWith("\uFEFF") ? text.substring(1) : text;
    try (MappingIterator<String[]> lines = mapper.readerFor(String[].class).readValues(plain)) {
      while (lines.hasNextValue()) {
        rows.add(new ArrayList<>(List.of(lines.nextValue())));
      }
    } catch (JsonProcessingException e) {
      return List.of(); // no CSV: the survey table's parser says so
    } catch (IOException e) {
      throw new java.io.UncheckedIOException("a text in memory cannot be read", e);
    }
    return rows;
  }

  private static String csv(List<List<String>> rows) {
    int columns = rows.get(0).size();
    List<Table.Column> table = new ArrayList<>();
    for (int i = 0; i < columns; i++) {
      List<String> cells = new ArrayList<>();
      for (List<String> row : rows.subList(1, rows.size())) {
        cells.add(i < row.size() ? row.get(i) : "");
      }
      table.add(new Table.Text(rows.get(0).get(i), cells));
    }
    return new Table(table).csv();
  }
}
