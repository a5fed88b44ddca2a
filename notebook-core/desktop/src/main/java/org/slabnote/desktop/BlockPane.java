package org.slabnote.desktop;

import java.util.Map;
import java.util.TreeMap;
import java.util.function.BiConsumer;
import javafx.geometry.Pos;
import javafx.scene.control.Button;
import javafx.scene.control.Label;
import javafx.scene.control.TextArea;
import javafx.scene.control.Tooltip;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Priority;
import javafx.scene.layout.Region;
import javafx.scene.layout.VBox;
import org.slabnote.engine.document.Block;
import org.slabnote.engine.document.Document;
import org.slabnote.engine.problem.Problem;

/** One block of the notebook on the page. */
abstract sealed class BlockPane extends VBox {

  /** Takes over the block as the text has it now. */
  abstract void show(Document document, Block block);

  /** Tells whether this pane can show the block: same kind, same name. */
  abstract boolean fits(Block block);

  /** A cell or csv block, edited as code, with its state in words. */
  static final class Code extends BlockPane {
    private final boolean cell;
    private final String name;
    private final CodeEditor editor;
    private final Label state = new Label();
    private final Label problems = new Label();
    private final Tooltip whole = new Tooltip();

    /** @param edited gets the block's name and its text after each change by hand */
    Code(Block.Named block, BiConsumer<String, String> edited) {
      cell = block instanceof Block.Cell;
      name = block.name();
      editor = new CodeEditor(
          cell ? CodeEditor.Language.JAVA : CodeEditor.Language.PLAIN,
          false,
          text -> edited.accept(name, text));
      getStyleClass().addAll("block", cell ? "cell" : "data");
      setId((cell ? "cell-" : "data-") + name);
      Label title = new Label(name);
      title.getStyleClass().add("block-name");
      title.setMinWidth(Region.USE_PREF_SIZE);
      Label kind = new Label(cell ? "cell" : "data");
      kind.getStyleClass().add("block-kind");
      kind.setMinWidth(Region.USE_PREF_SIZE);
      state.getStyleClass().add("state");
      state.setId("state-" + name);
      state.setMaxWidth(Double.MAX_VALUE);
      state.setAlignment(Pos.CENTER_RIGHT);
      whole.setWrapText(true);
      whole.setMaxWidth(600);
      state.setTooltip(whole);
      HBox.setHgrow(state, Priority.ALWAYS);
      HBox head = new HBox(kind, title, state);
      head.getStyleClass().add("block-head");
      problems.getStyleClass().add("block-problems");
      problems.setId("problems-" + name);
      problems.setWrapText(true);
      problems.setMinHeight(Region.USE_PREF_SIZE);
      problems.setMaxWidth(Double.MAX_VALUE);
      problems.managedProperty().bind(problems.visibleProperty());
      problems.setVisible(false);
      editor.area().setAccessibleText((cell ? "code of cell " : "rows of data ") + name);
      getChildren().addAll(head, editor, problems);
    }

    String name() {
      return name;
    }

    CodeEditor editor() {
      return editor;
    }

    @Override
    void show(Document document, Block block) {
      if (block instanceof Block.Named named) {
        String source = named.source();
        String shown = source.endsWith("\n") ? source.substring(0, source.length() - 1) : source;
        String own = editor.text();
        if (!own.equals(shown) && !own.equals(source)) {
          editor.setText(shown);
        }
        editor.setFirstLine(named.content().firstLine());
      }
    }

    @Override
    boolean fits(Block block) {
      return block instanceof Block.Named named
          && named.name().equals(name)
          && named instanceof Block.Cell == cell;
    }

    /** Says where the cell stands, marks its wrong lines and tells each problem under it. */
    void show(CellStatus status) {
      boolean wrong = status.kind() == CellStatus.Kind.WRONG;
      String words = wrong && !status.problems().isEmpty()
          ? status.words().substring(0, status.words().indexOf(':'))
          : status.words();
      state.setText(words);
      whole.setText("cell " + name + ": " + status.words());
      state.setAccessibleText("cell " + name + ": " + status.words());
      getStyleClass().removeIf(style -> style.startsWith("is-"));
      getStyleClass()
          .add("is-" + status.kind().name().toLowerCase(java.util.Locale.ROOT).replace('_', '-'));
      Map<Integer, String> marks = new TreeMap<>();
      StringBuilder all = new StringBuilder();
      for (Problem problem : status.problems()) {
        marks.putIfAbsent(problem.line(), problem.message());
        all.append(all.isEmpty() ? "" : "\n")
            .append(problem.line() > 0 ? "line " + problem.line() + ": " : "")
            .append(problem.message());
      }
      editor.setMarks(marks);
      problems.setText(all.toString());
      problems.setVisible(!all.isEmpty());
    }
  }

  /** Prose, rendered; its text is edited in place, each change at once in the notebook's text. */
  static final class Words extends BlockPane {
    private final BiConsumer<Block.Prose, String> edited;
    private final TextArea area = new TextArea();
    private String text = "";
    private String before = "";
    private boolean editing;
    private boolean telling;
    private Block.@org.jspecify.annotations.Nullable Prose block;

    /** @param edited gets the block and its new text after each change by hand */
    Words(BiConsumer<Block.Prose, String> edited) {
      this.edited = edited;
      getStyleClass().addAll("block", "words");
      area.setAccessibleText("text of the notebook, CommonMark");
      area.setWrapText(true);
      area.textProperty().addListener((property, old, now) -> tell(now));
      setOnMouseClicked(event -> {
        if (event.getClickCount() == 2 && !editing) {
          edit();
        }
      });
    }

    private void tell(String now) {
      Block.Prose at = block;
      if (editing && telling && at != null) {
        edited.accept(at, now);
      }
    }

    @Override
    void show(Document document, Block now) {
      if (now instanceof Block.Prose prose) {
        block = prose;
        String words = prose.span().of(document.text()).replace("\r\n", "\n");
        boolean changed = !words.equals(text);
        text = words;
        if (editing) {
          String own = area.getText();
          if (!own.equals(words) && !(own + "\n").equals(words)) {
            telling = false;
            area.setText(words);
            telling = true;
          }
        } else if (changed || getChildren().isEmpty()) {
          render();
        }
      }
    }

    @Override
    boolean fits(Block other) {
      return other instanceof Block.Prose;
    }

    /** Whether it shows these words already. */
    boolean says(String words) {
      return text.equals(words.replace("\r\n", "\n"));
    }

    private void render() {
      editing = false;
      boolean blank = text.isBlank();
      VBox page = Prose.render(text);
      Button edit = new Button("Edit text");
      edit.getStyleClass().add("quiet-button");
      edit.setOnAction(event -> edit());
      HBox foot = new HBox(edit);
      foot.getStyleClass().add("words-foot");
      getChildren().setAll(page, foot);
      setVisible(!blank);
      setManaged(!blank);
    }

    private void edit() {
      before = text;
      telling = false;
      area.setText(text);
      area.setPrefRowCount((int) Math.min(24, text.lines().count() + 2));
      telling = true;
      editing = true;
      Button done = new Button("Done");
      Button leave = new Button("Leave as it was");
      done.setOnAction(event -> render());
      leave.setOnAction(event -> {
        Block.Prose at = block;
        editing = false;
        if (at != null) {
          edited.accept(at, before);
        }
        render();
      });
      HBox foot = new HBox(8, done, leave);
      foot.getStyleClass().add("words-foot");
      getChildren().setAll(area, foot);
      area.requestFocus();
    }
  }
}
