package org.slabnote.desktop;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import javafx.beans.property.ReadOnlyBooleanProperty;
import javafx.beans.property.ReadOnlyBooleanWrapper;
import javafx.beans.property.ReadOnlyObjectProperty;
import javafx.beans.property.ReadOnlyObjectWrapper;
import org.slabnote.api.quantity.Units;
import org.slabnote.engine.document.Block;
import org.slabnote.engine.document.Document;
import org.slabnote.engine.document.Edits;
import org.slabnote.engine.job.Job;

/**
 * The notebook's text while it is being edited. The text is all there is: blocks, picks and names are
 * read from it after each change.
 */
final class NotebookModel {
  /** The header of a csv block of picks. */
  static final String PICKS = "pass,distance_m,time_ns";

  /**
   * A pick as it stands in the text.
   *
   * @param block name of the csv block
   * @param row line within the block, the header being line 0
   * @param pass name of the pass
   * @param distance along the pass, metres
   * @param time on the scan's own axis, nanoseconds
   */
  record PickLine(String block, int row, String pass, double distance, double time) {}

  private final ReadOnlyObjectWrapper<Document> document;
  private final ReadOnlyBooleanWrapper unsaved = new ReadOnlyBooleanWrapper(false);
  private String saved;

  NotebookModel(String text) {
    saved = text;
    document = new ReadOnlyObjectWrapper<>(Document.parse(Job.NOTEBOOK, text));
  }

  ReadOnlyObjectProperty<Document> documentProperty() {
    return document.getReadOnlyProperty();
  }

  Document document() {
    return document.get();
  }

  String text() {
    return document().text();
  }

  ReadOnlyBooleanProperty unsavedProperty() {
    return unsaved.getReadOnlyProperty();
  }

  /** States that the text as it is stands on disk. */
  void markSaved() {
    saved = text();
    unsaved.set(false);
  }

  /** Replaces the whole text. */
  void replaceAll(String text) {
    if (!text.equals(text())) {
      document.set(Document.parse(Job.NOTEBOOK, text));
      unsaved.set(!text.equals(saved));
    }
  }

  /** Replaces the lines of a cell or csv block; nothing happens where it says them already. */
  void replace(String block, String source) {
    boolean same = document()
        .named(block)
        .map(named -> trimmed(named.source()).equals(trimmed(source)))
        .orElse(true);
    if (!same) {
      replaceAll(Edits.replace(document(), block, source));
    }
  }

  private static String trimmed(String source) {
    return source.endsWith("\n") ? source.substring(0, source.length() - 1) : source;
  }

  /** Replaces a stretch of prose, line ends as the text has them. */
  void replaceProse(Block.Prose prose, String words) {
    String end = lineEnd();
    String unix = words.replace("\r\n", "\n");
    String whole = unix.endsWith("\n") ? unix : unix + "\n";
    replaceAll(text().substring(0, prose.span().start())
        + whole.replace("\n", end)
        + text().substring(prose.span().end()));
  }

  /** The line end that the text uses. */
  String lineEnd() {
    return text().contains("\r\n") ? "\r\n" : "\n";
  }

  /** Names of the csv blocks that hold picks. */
  List<String> pickBlocks() {
    return document().data().stream()
        .filter(data -> header(data).equals(PICKS))
        .map(Block.Data::name)
        .toList();
  }

  private static String header(Block.Data data) {
    return data.source().lines().findFirst().orElse("").replace(" ", "");
  }

  /** Every pick in the text that can be read, in order. What cannot be read is the engine's to tell. */
  List<PickLine> picks() {
    List<PickLine> picks = new ArrayList<>();
    for (Block.Data data : document().data()) {
      if (header(data).equals(PICKS)) {
        List<String> lines = data.source().lines().toList();
        for (int i = 1; i < lines.size(); i++) {
          pick(data.name(), i, lines.get(i)).ifPresent(picks::add);
        }
      }
    }
    return picks;
  }

  private static Optional<PickLine> pick(String block, int row, String line) {
    int time = line.lastIndexOf(',');
    int distance = line.lastIndexOf(',', time - 1);
    if (distance <= 0) {
      return Optional.empty();
    }
    String pass = line.substring(0, distance).strip();
    if (pass.length() > 1 && pass.startsWith("\"") && pass.endsWith("\"")) {
      pass = pass.substring(1, pass.length() - 1).replace("\"\"", "\"");
    }
    try {
      return Optional.of(new PickLine(
          block,
          row,
          pass,
          Double.parseDouble(line.substring(distance + 1, time).strip()),
          Double.parseDouble(line.substring(time + 1).strip())));
    } catch (NumberFormatException e) {
      return Optional.empty();
    }
  }

  /** The name of the block that picks of a pass go to when no other is chosen. */
  static String blockFor(String pass) {
    return "picks-" + pass.replaceAll("[^A-Za-z0-9_-]", "-");
  }

  /**
   * Writes a pick as a line at the end of a csv block, which is made where there is none of that name.
   *
   * @param distance along the pass, metres; written to a tenth of a millimetre
   * @param time on the scan's own axis, nanoseconds; written to a tenth of a picosecond
   */
  void addPick(String block, String pass, double distance, double time) {
    Document now = document();
    if (now.named(block).isEmpty()) {
      now = Document.parse(Job.NOTEBOOK, withBlock(now, block));
    }
    String name = pass.matches("[^\",\\r\\n]*") ? pass : "\"" + pass.replace("\"", "\"\"") + "\"";
    String row = name + "," + Units.fixed(distance, 4) + "," + Units.fixed(time, 4);
    replaceAll(Edits.appendRow(now, block, row));
  }

  /** Takes a pick's line out of the text. */
  void removePick(PickLine pick) {
    replaceAll(Edits.removeRow(document(), pick.block(), pick.row()));
  }

  /** A new block reads above the first cell that names it, else above the last cell. */
  private static String withBlock(Document now, String block) {
    List<Block.Cell> cells = now.cells();
    Optional<String> reader = cells.stream()
        .filter(cell -> cell.source().contains("\"" + block + "\""))
        .map(Block.Cell::name)
        .findFirst();
    if (reader.isPresent() || !cells.isEmpty()) {
      String before = reader.orElseGet(() -> cells.get(cells.size() - 1).name());
      return Edits.addData(now, block, PICKS, before);
    }
    String text = now.text();
    String gap = text.isEmpty() || text.endsWith("\n") ? "\n" : "\n\n";
    return text + gap + "```csv " + block + "\n" + PICKS + "\n```\n";
  }
}
