package org.slabnote.desktop;

import java.util.function.Consumer;
import javafx.scene.control.ListCell;
import javafx.scene.input.KeyCode;
import org.jspecify.annotations.Nullable;
import org.slabnote.engine.problem.Problem;

/** A problem in a list; a click or Enter goes to its place. */
final class ProblemCell extends ListCell<Problem> {
  /** @param goTo gets the problem that is chosen */
  ProblemCell(Consumer<Problem> goTo) {
    setWrapText(true);
    setPrefWidth(0);
    setOnMouseClicked(event -> {
      if (getItem() != null) {
        goTo.accept(getItem());
      }
    });
    setOnKeyPressed(event -> {
      if (event.getCode() == KeyCode.ENTER && getItem() != null) {
        goTo.accept(getItem());
      }
    });
  }

  @Override
  protected void updateItem(@Nullable Problem problem, boolean empty) {
    super.updateItem(problem, empty);
    setText(empty || problem == null ? null : problem.toString());
  }
}
