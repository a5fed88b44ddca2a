package org.slabnote.desktop;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import javafx.application.Platform;
import javafx.geometry.Bounds;
import javafx.scene.Node;
import javafx.scene.control.ScrollPane;
import javafx.scene.layout.BorderPane;
import javafx.scene.layout.VBox;
import org.slabnote.engine.document.Block;
import org.slabnote.engine.document.Document;
import org.slabnote.engine.problem.Problem;

/** The notebook as a page of blocks, or as the whole text. */
final class NotebookView extends BorderPane {
  private final NotebookModel model;
  private final VBox page = new VBox();
  private final ScrollPane scroll = new ScrollPane(page);
  private final CodeEditor whole;
  private boolean asText;

  NotebookView(NotebookModel model) {
    this.model = model;
    setId("notebook");
    page.getStyleClass().add("page");
    scroll.setFitToWidth(true);
    scroll.getStyleClass().add("page-scroll");
    scroll.setAccessibleText("notebook");
    whole = new CodeEditor(CodeEditor.Language.PLAIN, true, this::wholeEdited);
    whole.setId("whole-text");
    whole.area().setAccessibleText("whole text of the notebook");
    setCenter(scroll);
    model.documentProperty().addListener((property, before, now) -> show(now));
    show(model.document());
  }

  private void wholeEdited(String text) {
    model.replaceAll(text.replace("\n", model.lineEnd()));
  }

  /** Shows the whole text in one editor, or the page of blocks. */
  void showAsText(boolean text) {
    asText = text;
    show(model.document());
    setCenter(text ? whole : scroll);
  }

  private void show(Document now) {
    if (asText) {
      whole.setText(now.text().replace("\r\n", "\n"));
      return;
    }
    List<Block> blocks = now.blocks();
    if (!fits(blocks)) {
      rebuild(blocks);
    }
    for (int i = 0; i < blocks.size(); i++) {
      ((BlockPane) page.getChildren().get(i)).show(now, blocks.get(i));
    }
  }

  private boolean fits(List<Block> blocks) {
    if (blocks.size() != page.getChildren().size()) {
      return false;
    }
    for (int i = 0; i < blocks.size(); i++) {
      if (!((BlockPane) page.getChildren().get(i)).fits(blocks.get(i))) {
        return false;
      }
    }
    return true;
  }

  /** Panes of blocks that are still there are kept, with their undo. */
  private void rebuild(List<Block> blocks) {
    String text = model.text();
    List<Node> old = new ArrayList<>(page.getChildren());
    List<Node> panes = new ArrayList<>();
    for (Block block : blocks) {
      Node kept = old.stream()
          .filter(node -> ((BlockPane) node).fits(block))
          .filter(node -> !(node instanceof BlockPane.Words words)
              || words.says(block.span().of(text)))
          .findFirst()
          .orElse(null);
      if (kept != null) {
        old.remove(kept);
        panes.add(kept);
      } else if (block instanceof Block.Named named) {
        panes.add(new BlockPane.Code(named, model::replace));
      } else {
        panes.add(new BlockPane.Words(model::replaceProse));
      }
    }
    page.getChildren().setAll(panes);
  }

  /** Says where each cell stands. */
  void show(Map<String, CellStatus> states, List<Problem> problems) {
    Map<Integer, String> marks = new LinkedHashMap<>();
    for (Problem problem : problems) {
      if (problem.line() > 0 && problem.file().equals(model.document().file())) {
        marks.putIfAbsent(problem.line(), problem.message());
      }
    }
    whole.setMarks(marks);
    for (Node node : page.getChildren()) {
      if (node instanceof BlockPane.Code code) {
        CellStatus status = states.get(code.name());
        List<Problem> own =
            problems.stream().filter(p -> p.cell().equals(code.name())).toList();
        if (status != null) {
          code.show(status);
        } else {
          code.show(
              own.isEmpty()
                  ? new CellStatus(CellStatus.Kind.DONE, "", List.of())
                  : CellStatus.wrong(own));
        }
      }
    }
  }

  /** Brings a line of the notebook into view and takes the keys there. */
  void goTo(int line) {
    if (asText) {
      whole.goTo(line);
      return;
    }
    Document now = model.document();
    for (int i = 0; i < now.blocks().size(); i++) {
      Block block = now.blocks().get(i);
      int first = block.span().firstLine();
      if (line >= first && line < first + block.span().lines()) {
        Node pane = page.getChildren().get(i);
        reveal(pane);
        if (pane instanceof BlockPane.Code code) {
          code.editor().goTo(line);
        }
      }
    }
  }

  private void reveal(Node pane) {
    Platform.runLater(() -> {
      Bounds bounds = pane.getBoundsInParent();
      double room = page.getHeight() - scroll.getViewportBounds().getHeight();
      if (room > 0) {
        scroll.setVvalue(Math.max(0, Math.min(1, (bounds.getMinY() - 20) / room)));
      }
    });
  }
}
