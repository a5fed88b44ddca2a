package org.slabnote.engine.job;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.CodingErrorAction;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.SortedMap;
import java.util.TreeMap;
import org.slabnote.api.Cut;
import org.slabnote.api.JobSheet;
import org.slabnote.api.Survey;
import org.slabnote.api.SurveyRow;
import org.slabnote.api.codec.Canonical;
import org.slabnote.engine.document.Document;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Problem;

/**
 * A job as its files say it, read once: everything a run depends on, with digests.
 *
 * @param folder the job folder
 * @param sheet the job sheet
 * @param survey the survey table
 * @param cuts the proposed cuts; none where the job has no {@code cuts.csv}
 * @param notebook the notebook, its blocks sound
 * @param scans the scan files by name
 * @param digests SHA-256 of {@code job.toml}, {@code survey.csv}, {@code cuts.csv} and the positions
 *     files, by name
 * @param plugins the plugins of third parties that the job pins
 * @since 0.1
 */
public record Job(
    Path folder,
    JobSheet sheet,
    Survey survey,
    List<Cut> cuts,
    Document notebook,
    SortedMap<String, ScanFile> scans,
    SortedMap<String, String> digests,
    JobPlugins plugins) {

  /** The job sheet's file name. */
  public static final String SHEET = "job.toml";

  /** The notebook's file name. */
  public static final String NOTEBOOK = "interpretation.md";

  /** The survey table's file name. */
  public static final String SURVEY = "survey.csv";

  /** The proposed cuts' file name. */
  public static final String CUTS = "cuts.csv";

  /** The folder of the scans. */
  public static final String SCANS = "scans";

  /** The record's file name. */
  public static final String RECORD = "interpretation.record.jsonl";

  /** The digests' file name. */
  public static final String DIGESTS = "interpretation.digests";

  /** Copies the list. */
  public Job {
    cuts = List.copyOf(cuts);
  }

  /**
   * Reads the job's files and digests its scans.
   *
   * @throws BadInput with every problem that could be found
   */
  public static Job open(Path folder) throws BadInput {
    return open(folder, new ScanDigests());
  }

  /**
   * Reads the job's files and digests the scans that changed.
   *
   * @param known digests of the scans as far as they are known
   * @throws BadInput with every problem that could be found
   */
  public static Job open(Path folder, ScanDigests known) throws BadInput {
    return open(folder, text(folder, NOTEBOOK), known);
  }

  /**
   * Reads the job's files, but takes the notebook's text as given: an editor's, perhaps not saved.
   *
   * @throws BadInput with every problem that could be found
   */
  public static Job open(Path folder, String notebookText) throws BadInput {
    return open(folder, notebookText, new ScanDigests());
  }

  /**
   * Reads the job's files with the notebook's text as given, and digests the scans that changed.
   *
   * @param known digests of the scans as far as they are known
   * @throws BadInput with every problem that could be found
   */
  public static Job open(Path folder, String notebookText, ScanDigests known) throws BadInput {
    SortedMap<String, String> digests = new TreeMap<>();
    List<Problem> problems = new ArrayList<>();
    Document notebook = Document.parse(NOTEBOOK, notebookText);
    problems.addAll(notebook.problems());
    JobSheet sheet =
        collect(problems, () -> JobSheetFile.parse(SHEET, digested(folder, SHEET, digests)));
    SurveyTable.Lines survey = collect(
        problems, () -> SurveyTable.parseWithLines(SURVEY, digested(folder, SURVEY, digests)));
    List<Cut> cuts = List.of();
    if (Files.exists(folder.resolve(CUTS))) {
      SortedMap<org.slabnote.api.TargetClass, org.slabnote.api.quantity.Length> required =
          sheet == null ? new TreeMap<>() : sheet.required();
      List<Cut> read =
          collect(problems, () -> CutsTable.parse(CUTS, digested(folder, CUTS, digests), required));
      cuts = read == null ? List.of() : read;
    }
    SortedMap<String, ScanFile> scans = new TreeMap<>();
    Survey placed = new Survey(List.of());
    if (survey != null) {
      digestScans(folder, survey, known, scans, problems);
      placed = withPositions(folder, survey.survey(), digests, problems);
    }
    JobPlugins plugins = collect(problems, () -> JobPlugins.open(folder, known));
    if (!problems.isEmpty() || sheet == null || plugins == null) {
      throw new BadInput(problems);
    }
    return new Job(folder, sheet, placed, cuts, notebook, scans, digests, plugins);
  }

  private interface Reading<T> {
    T read() throws BadInput;
  }

  private static <T> @org.jspecify.annotations.Nullable T collect(
      List<Problem> problems, Reading<T> reading) {
    try {
      return reading.read();
    } catch (BadInput bad) {
      problems.addAll(bad.problems());
      return null;
    }
  }

  private static String digested(Path folder, String name, SortedMap<String, String> digests)
      throws BadInput {
    String text = text(folder, name);
    digests.put(name, Canonical.sha256(text.getBytes(StandardCharsets.UTF_8)));
    return text;
  }

  private static void digestScans(
      Path folder,
      SurveyTable.Lines survey,
      ScanDigests known,
      SortedMap<String, ScanFile> scans,
      List<Problem> problems) {
    for (int i = 0; i < survey.lines().size(); i++) {
      SurveyRow row = survey.survey().rows().get(i);
      if (scans.containsKey(row.file())) {
        continue;
      }
      Path path = folder.resolve(SCANS).resolve(row.file());
      if (!Files.isRegularFile(path)) {
        problems.add(Problem.inFile(
            SURVEY,
            survey.lines().get(i),
            "file = " + row.file() + ", but there is no file " + SCANS + "/" + row.file()
                + ". Copy the scan there, or put its name right"));
        continue;
      }
      try {
        scans.put(row.file(), new ScanFile(row.file(), path, known.of(path)));
      } catch (IOException e) {
        problems.add(unreadable(SCANS + "/" + row.file(), e));
      }
    }
  }

  /** The survey with the places of the positions files that it names. */
  private static Survey withPositions(
      Path folder, Survey survey, SortedMap<String, String> digests, List<Problem> problems) {
    List<SurveyRow> rows = new ArrayList<>();
    for (SurveyRow row : survey.rows()) {
      String named = row.extra().getOrDefault("positions_file", "");
      String file = SCANS + "/" + named;
      SurveyRow placed = named.isEmpty()
          ? row
          : collect(
              problems, () -> PositionsFile.place(file, digested(folder, file, digests), row));
      rows.add(placed == null ? row : placed);
    }
    return new Survey(rows);
  }

  /**
   * The job sheet alone, of a job whose other files may still be wrong.
   *
   * @throws BadInput if it is not there or does not serve
   */
  public static JobSheet sheet(Path folder) throws BadInput {
    return JobSheetFile.parse(SHEET, text(folder, SHEET));
  }

  /** A file of the job as text. */
  static String text(Path folder, String name) throws BadInput {
    Path path = folder.resolve(name);
    if (!Files.isDirectory(folder)) {
      throw new BadInput(Problem.inFile(
          folder.toString(),
          0,
          "there is no such folder; expected a job folder. "
              + "Make one with: slabnote new JOB --survey FILE"));
    }
    if (!Files.exists(path, LinkOption.NOFOLLOW_LINKS)) {
      throw new BadInput(Problem.inFile(
          name,
          0,
          "the job folder " + folder.getFileName() + " has no such file; expected it "
              + "beside the others. Make a job with: slabnote new JOB --survey FILE"));
    }
    try {
      return StandardCharsets.UTF_8
          .newDecoder()
          .onMalformedInput(CodingErrorAction.REPORT)
          .onUnmappableCharacter(CodingErrorAction.REPORT)
          .decode(ByteBuffer.wrap(Files.readAllBytes(path)))
          .toString();
    } catch (CharacterCodingException e) {
      throw new BadInput(Problem.inFile(
          name, 0, "the file is not text in UTF-8; expected UTF-8. Save it again in UTF-8"));
    } catch (IOException e) {
      throw new BadInput(unreadable(name, e));
    }
  }

  private static Problem unreadable(String name, IOException e) {
    return Problem.inFile(
        name,
        0,
        "the file cannot be read (" + e.getClass().getSimpleName() + "). "
            + "Check that it is a file and that you may read it");
  }
}
