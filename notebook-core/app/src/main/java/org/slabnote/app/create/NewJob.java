package org.slabnote.app.create;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.CodingErrorAction;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.Consumer;
import java.util.stream.Stream;
import org.slabnote.api.Cut;
import org.slabnote.engine.job.CutsTable;
import org.slabnote.engine.job.Job;
import org.slabnote.engine.job.JobSheetFile;
import org.slabnote.engine.job.SurveyTable;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Problem;
import org.slabnote.engine.run.Toolbox;

/** A job folder to be made: whole, or not at all. */
public final class NewJob {
  /** Digests are of bytes: no line end may be changed on the way through version control. */
  private static final String ATTRIBUTES = """
      # What is digested must come back from version control byte for byte.
      * -text
      scans/** binary
      interpretation.digests -diff
      """;

  private final Path folder;
  private final Path survey;
  private final Optional<Path> cuts;
  private final String title;

  /**
   * States what is to be made.
   *
   * @param folder the job folder; it must not exist, or be empty
   * @param survey the survey table
   * @param cuts the proposed cuts
   * @param title title of the job; the folder's name where it is left out
   */
  public NewJob(Path folder, Path survey, Optional<Path> cuts, Optional<String> title) {
    this.folder = folder.toAbsolutePath().normalize();
    this.survey = survey;
    this.cuts = cuts;
    this.title = title.filter(t -> !t.isBlank()).orElse(String.valueOf(this.folder.getFileName()));
  }

  /**
   * Checks everything, then makes the folder.
   *
   * @param stage hears what is done now
   * @return the number of scan files copied
   * @throws BadInput with every problem that could be found; then nothing was written
   */
  public int make(Consumer<String> stage) throws BadInput {
    requireFree();
    stage.accept("reading the survey table");
    String stated = text(survey);
    SurveyCopy copy = SurveyCopy.of(survey, stated);
    SurveyTable.Lines lines = SurveyTable.parseWithLines(survey.toString(), copy.text());
    Optional<String> cutsText = Optional.empty();
    List<Cut> planned = List.of();
    if (cuts.isPresent()) {
      cutsText = Optional.of(text(cuts.get()));
      planned = CutsTable.parse(cuts.get().toString(), cutsText.get(), new TreeMap<>());
    }
    stage.accept("reading the scans");
    ScanChecks scans =
        ScanChecks.of(survey, lines, copy.sources(), Toolbox.find().plugins());
    String notebook =
        StarterNotebook.text(new SurveyFacts(title, lines.survey(), planned, scans.windows()));
    stage.accept("writing the job");
    write(copy.text(), cutsText, notebook, scans);
    return scans.windows().size();
  }

  private void requireFree() throws BadInput {
    if (Files.exists(folder, LinkOption.NOFOLLOW_LINKS) && !isEmptyFolder()) {
      throw new BadInput(Problem.inFile(
          folder.toString(),
          0,
          "it is there already; expected a new name or an empty folder. Give the job another "
              + "name; nothing was changed"));
    }
    Path parent = folder.getParent();
    if (parent == null || !Files.isDirectory(parent)) {
      throw new BadInput(Problem.inFile(
          folder.toString(),
          0,
          "there is no folder " + parent + " to make it in. Make that folder first"));
    }
  }

  private boolean isEmptyFolder() {
    if (!Files.isDirectory(folder)) {
      return false;
    }
    try (Stream<Path> files = Files.list(folder)) {
      return files.findAny().isEmpty();
    } catch (IOException e) {
      return false;
    }
  }

  static String text(Path file) throws BadInput {
    if (!Files.isRegularFile(file)) {
      throw new BadInput(Problem.inFile(
          file.toString(),
          0,
          "there is no such file; expected a table as CSV. Put the name right"));
    }
    try {
      return StandardCharsets.UTF_8
          .newDecoder()
          .onMalformedInput(CodingErrorAction.REPORT)
          .onUnmappableCharacter(CodingErrorAction.REPORT)
          .decode(ByteBuffer.wrap(Files.readAllBytes(file)))
          .toString();
    } catch (CharacterCodingException e) {
      throw new BadInput(Problem.inFile(
          file.toString(), 0, "this is not text in UTF-8. Save the table again, as CSV in UTF-8"));
    } catch (IOException e) {
      throw new BadInput(unreadable(file.toString(), e));
    }
  }

  static Problem unreadable(String file, IOException e) {
    return Problem.inFile(
        file,
        0,
        "the file cannot be read (" + e.getClass().getSimpleName()
            + "). Check that you may read it");
  }

  private void write(
      String surveyText, Optional<String> cutsText, String notebook, ScanChecks scans)
      throws BadInput {
    Path part = folder.resolveSibling(
        "." + folder.getFileName() + ".part-" + ProcessHandle.current().pid());
    Thread onInterrupt = new Thread(() -> delete(part));
    Runtime.getRuntime().addShutdownHook(onInterrupt);
    try {
      Files.createDirectory(part);
      Files.writeString(part.resolve(Job.SURVEY), surveyText);
      if (cutsText.isPresent()) {
        Files.writeString(part.resolve(Job.CUTS), cutsText.get());
      }
      Files.writeString(part.resolve(Job.SHEET), JobSheetFile.blank(title));
      Files.writeString(part.resolve(Job.NOTEBOOK), notebook);
      Files.writeString(part.resolve(".gitattributes"), ATTRIBUTES);
      scans.copyTo(part.resolve(Job.SCANS));
      Job.open(part);
      if (Files.isDirectory(folder)) {
        Files.delete(folder);
      }
      Files.move(part, folder);
    } catch (IOException e) {
      throw new BadInput(Problem.inFile(
          folder.toString(),
          0,
          "the folder cannot be written (" + e.getClass().getSimpleName() + ": " + e.getMessage()
              + "). Make room, or make the job where you may write; nothing was left there"));
    } finally {
      delete(part);
      removeHook(onInterrupt);
    }
  }

  private static void removeHook(Thread hook) {
    try {
      Runtime.getRuntime().removeShutdownHook(hook);
    } catch (IllegalStateException e) {
      return; // the process is ending; the hook does its work
    }
  }

  private static void delete(Path part) {
    if (!Files.exists(part, LinkOption.NOFOLLOW_LINKS)) {
      return;
    }
    try (Stream<Path> files = Files.walk(part)) {
      for (Path path : files.sorted(Comparator.reverseOrder()).toList()) {
        Files.deleteIfExists(path);
      }
    } catch (IOException e) {
      throw new java.io.UncheckedIOException(part + " cannot be removed. Remove it by hand", e);
    }
  }
}
