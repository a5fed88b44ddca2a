package org.slabnote.app.create;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;
import org.slabnote.api.Plugin;
import org.slabnote.api.Scan;
import org.slabnote.api.ScanFileException;
import org.slabnote.api.ScanFormat;
import org.slabnote.api.SurveyRow;
import org.slabnote.api.codec.Canonical;
import org.slabnote.engine.job.PositionsFile;
import org.slabnote.engine.job.SurveyTable;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Problem;

/**
 * Scan files that were read, each against its row of the survey table.
 *
 * @param files scan files, and files of positions, by their name in the job, with where they are copied from
 * @param windows length of the recorded time by scan file, ns; of several scans in one file the least
 */
record ScanChecks(SortedMap<String, Source> files, SortedMap<String, Double> windows) {
  private static final int HEAD = 4096;

  /**
   * A scan file or a file of positions.
   *
   * @param path where it lies
   * @param sha256 digest of its bytes when it was read
   */
  record Source(Path path, String sha256) {}

  /**
   * Reads every scan.
   *
   * @param survey the survey table's file, for messages
   * @param sources where each file of the table lies, by its name there
   * @throws BadInput with a problem for each scan that cannot be read as its row says
   */
  static ScanChecks of(
      Path survey, SurveyTable.Lines lines, Map<String, Path> sources, List<Plugin> plugins)
      throws BadInput {
    List<ScanFormat> formats =
        plugins.stream().flatMap(one -> one.scanFormats().stream()).toList();
    List<Problem> problems = new ArrayList<>();
    SortedMap<String, Source> files = new TreeMap<>();
    SortedMap<String, Double> windows = new TreeMap<>();
    for (int i = 0; i < lines.lines().size(); i++) {
      SurveyRow stated = lines.survey().rows().get(i);
      SurveyRow row = placed(survey, lines.lines().get(i), stated, sources, files, problems);
      Path path = sources.getOrDefault(row.file(), Path.of(row.file()));
      byte[] bytes = bytes(survey, lines.lines().get(i), "file", row.file(), path, problems);
      if (bytes != null) {
        files.put(row.file(), new Source(path, Canonical.sha256(bytes)));
        read(survey, lines.lines().get(i), row, bytes, formats, problems)
            .ifPresent(scan -> windows.merge(
                row.file(), scan.interval().value() * (scan.axis().count() - 1), Math::min));
      }
    }
    if (!problems.isEmpty()) {
      throw new BadInput(problems);
    }
    return new ScanChecks(files, windows);
  }

  /** The row with the places of its traces, where it names a file of them. */
  private static SurveyRow placed(
      Path survey,
      int line,
      SurveyRow row,
      Map<String, Path> sources,
      SortedMap<String, Source> files,
      List<Problem> problems) {
    String name = row.extra().getOrDefault("positions_file", "");
    if (name.isEmpty()) {
      return row;
    }
    Path path = sources.getOrDefault(name, Path.of(name));
    byte[] bytes = bytes(survey, line, "positions_file", name, path, problems);
    if (bytes == null) {
      return row;
    }
    files.put(name, new Source(path, Canonical.sha256(bytes)));
    try {
      return PositionsFile.place(path.toString(), NewJob.text(path), row);
    } catch (BadInput bad) {
      problems.addAll(bad.problems());
      return row;
    }
  }

  private static byte @Nullable [] bytes(
      Path survey, int line, String column, String file, Path path, List<Problem> problems) {
    if (!Files.isRegularFile(path)) {
      problems.add(Problem.inFile(
          survey.toString(),
          line,
          column + " = " + file + ", but there is no file " + path
              + ". Copy it there, or put its name right"));
      return null;
    }
    try {
      return Files.readAllBytes(path);
    } catch (IOException e) {
      problems.add(NewJob.unreadable(path.toString(), e));
      return null;
    }
  }

  private static Optional<Scan> read(
      Path survey,
      int line,
      SurveyRow row,
      byte[] bytes,
      List<ScanFormat> formats,
      List<Problem> problems) {
    byte[] head = Arrays.copyOf(bytes, Math.min(HEAD, bytes.length));
    for (ScanFormat format : formats) {
      if (format.recognises(row.file(), head)) {
        try {
          return Optional.of(format.read(bytes, row));
        } catch (ScanFileException e) {
          problems.add(problem(survey, e));
          return Optional.empty();
        }
      }
    }
    problems.add(Problem.inFile(
        survey.toString(),
        line,
        "file = " + row.file() + " is in no format that is known here; expected one of "
            + String.join(", ", formats.stream().map(ScanFormat::id).toList())
            + ". Export the scan as SEG-Y"));
    return Optional.empty();
  }

  /** The reader's message with its place; it calls the survey table by the name it has in a job. */
  private static Problem problem(Path survey, ScanFileException e) {
    String place = e.file() + (e.place().isEmpty() ? "" : ", " + e.place());
    String message = String.valueOf(e.getMessage());
    String what =
        message.startsWith(place + ": ") ? message.substring(place.length() + 2) : message;
    String file = String.valueOf(survey.getFileName());
    return Problem.inFile(place, 0, what.replace("survey.csv", file));
  }

  /**
   * Copies the files.
   *
   * @throws BadInput if one changed since it was read
   */
  void copyTo(Path folder) throws IOException, BadInput {
    Files.createDirectory(folder);
    for (Map.Entry<String, Source> entry : files.entrySet()) {
      Source source = entry.getValue();
      byte[] bytes = Files.readAllBytes(source.path());
      if (!Canonical.sha256(bytes).equals(source.sha256())) {
        throw new BadInput(Problem.inFile(
            source.path().toString(),
            0,
            "the file changed while it was copied. Make the job again when it is whole"));
      }
      Path target = folder.resolve(entry.getKey());
      Files.createDirectories(target.getParent());
      Files.write(target, bytes);
    }
  }
}
