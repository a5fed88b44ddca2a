package org.slabnote.desktop;

import java.util.ArrayList;
import java.util.Collection;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.function.Consumer;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import javafx.geometry.Pos;
import javafx.scene.Node;
import javafx.scene.control.Label;
import javafx.scene.control.Tooltip;
import javafx.scene.input.ScrollEvent;
import javafx.scene.layout.Region;
import org.fxmisc.flowless.VirtualizedScrollPane;
import org.fxmisc.richtext.CodeArea;
import org.fxmisc.richtext.model.StyleSpans;
import org.fxmisc.richtext.model.StyleSpansBuilder;
import org.fxmisc.richtext.util.UndoUtils;
import org.fxmisc.undo.UndoManagerFactory;

/**
 * An editor of code or text with line numbers of the file, marked lines and a bounded undo. The one
 * class that knows RichTextFX.
 */
final class CodeEditor extends Region {
  /** How colours are given to words. */
  enum Language {
    /** Java. */
    JAVA,
    /** None. */
    PLAIN
  }

  private static final int UNDO_STEPS = 300;
  private static final double LINE = 18;
  private static final Pattern JAVA =
      Pattern.compile("(?<comment>//[^\\n]*|/\\*(?s:.*?)(?:\\*/|\\z))"
          + "|(?<string>\"(?:\\\\.|[^\"\\\\\\n])*\"?|'(?:\\\\.|[^'\\\\\\n])*'?)"
          + "|(?<keyword>\\b(?:abstract|boolean|break|byte|case|catch|char|class|continue|default|do"
          + "|double|else|enum|extends|final|finally|float|for|if|implements|import|instanceof|int"
          + "|interface|long|new|null|package|private|protected|public|record|return|short|static"
          + "|super|switch|this|throw|true|false|try|var|void|while)\\b)"
          + "|(?<number>\\b\\d[\\d_]*(?:\\.\\d+)?(?:[eE][-+]?\\d+)?[fFdDlL]?\\b)");

  private final CodeArea area = new CodeArea();
  private final Node content;
  private final Language language;
  private final boolean scrolls;
  private final Map<Integer, String> marks = new TreeMap<>();
  private int firstLine = 1;
  private boolean telling = true;

  /**
   * @param scrolls whether it scrolls by itself; else it is as high as its text
   * @param edited gets the whole text after each change by hand
   */
  CodeEditor(Language language, boolean scrolls, Consumer<String> edited) {
    this.language = language;
    this.scrolls = scrolls;
    getStyleClass().add("code-editor");
    area.getStyleClass().add("code");
    area.setUndoManager(UndoUtils.plainTextUndoManager(
        area, UndoManagerFactory.fixedSizeHistoryFactory(UNDO_STEPS)));
    area.setParagraphGraphicFactory(this::gutter);
    area.setWrapText(true);
    content = scrolls ? new VirtualizedScrollPane<>(area) : area;
    getChildren().add(content);
    area.plainTextChanges().subscribe(change -> {
      colour();
      askForRoom();
      if (telling) {
        edited.accept(area.getText());
      }
    });
    if (!scrolls) {
      area.addEventFilter(ScrollEvent.SCROLL, this::passOn);
      area.totalHeightEstimateProperty().addListener((property, before, now) -> askForRoom());
    }
  }

  private void askForRoom() {
    requestLayout();
    if (getParent() != null) {
      getParent().requestLayout();
    }
  }

  /** An editor that shows all its lines leaves the wheel to the page around it. */
  private void passOn(ScrollEvent event) {
    boolean sideways = Math.abs(event.getDeltaX()) > Math.abs(event.getDeltaY());
    if (!sideways && getParent() != null) {
      event.consume();
      getParent().fireEvent(event.copyFor(getParent(), getParent()));
    }
  }

  /** The area that gets the keys. */
  Region area() {
    return area;
  }

  String text() {
    return area.getText();
  }

  /** Sets the text where it differs, without telling; what was undone before cannot be any more. */
  void setText(String text) {
    if (!text.equals(area.getText())) {
      telling = false;
      int caret = Math.min(area.getCaretPosition(), text.length());
      area.replaceText(text);
      area.getUndoManager().forgetHistory();
      area.moveTo(caret);
      telling = true;
    }
  }

  /** States the line of the file at which the text begins. */
  void setFirstLine(int line) {
    if (line != firstLine) {
      firstLine = line;
      renumber();
    }
  }

  /**
   * Marks lines.
   *
   * @param wrong messages by line of the file
   */
  void setMarks(Map<Integer, String> wrong) {
    if (!marks.equals(wrong)) {
      marks.clear();
      marks.putAll(wrong);
      renumber();
    }
  }

  /** Places the caret at a line of the file and takes the keys. */
  void goTo(int line) {
    int paragraph = Math.max(0, Math.min(area.getParagraphs().size() - 1, line - firstLine));
    area.moveTo(paragraph, 0);
    area.requestFollowCaret();
    area.requestFocus();
  }

  private void renumber() {
    for (int i = 0; i < area.getParagraphs().size(); i++) {
      Collection<String> style =
          marks.containsKey(firstLine + i) ? List.of("wrong-line") : List.of();
      area.setParagraphStyle(i, style);
    }
    area.setParagraphGraphicFactory(this::gutter);
  }

  private Node gutter(int paragraph) {
    int line = firstLine + paragraph;
    Label number = new Label(String.valueOf(line));
    number.getStyleClass().add("line-number");
    number.setAlignment(Pos.TOP_RIGHT);
    number.setMinWidth(46);
    number.setPrefWidth(46);
    number.setMaxHeight(Double.MAX_VALUE);
    String message = marks.get(line);
    if (message != null) {
      number.getStyleClass().add("wrong-number");
      number.setText("! " + line);
      number.setTooltip(new Tooltip(message));
      number.setAccessibleText("line " + line + ": " + message);
    }
    return number;
  }

  private void colour() {
    String text = area.getText();
    if (language == Language.JAVA && !text.isEmpty()) {
      area.setStyleSpans(0, spans(text));
    }
  }

  private static StyleSpans<Collection<String>> spans(String text) {
    StyleSpansBuilder<Collection<String>> spans = new StyleSpansBuilder<>();
    Matcher matcher = JAVA.matcher(text);
    int end = 0;
    while (matcher.find()) {
      String style = "number";
      for (String name : List.of("comment", "string", "keyword")) {
        style = matcher.group(name) != null ? name : style;
      }
      spans.add(Collections.emptyList(), matcher.start() - end);
      spans.add(new ArrayList<>(List.of(style)), matcher.end() - matcher.start());
      end = matcher.end();
    }
    spans.add(Collections.emptyList(), text.length() - end);
    return spans.create();
  }

  @Override
  protected double computePrefHeight(double width) {
    if (scrolls) {
      return 400;
    }
    Double seen = area.totalHeightEstimateProperty().getValue();
    return Math.max(seen == null ? 0 : seen, area.getParagraphs().size() * LINE) + 10;
  }

  @Override
  protected double computeMinHeight(double width) {
    return scrolls ? 60 : computePrefHeight(width);
  }

  @Override
  protected double computePrefWidth(double height) {
    return 400;
  }

  @Override
  protected void layoutChildren() {
    content.resizeRelocate(0, 0, getWidth(), getHeight());
  }
}
