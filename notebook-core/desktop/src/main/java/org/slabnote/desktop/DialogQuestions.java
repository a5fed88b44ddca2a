package org.slabnote.desktop;

import java.util.ArrayList;
import java.util.List;
import javafx.scene.control.Alert;
import javafx.scene.control.ButtonBar;
import javafx.scene.control.ButtonType;
import javafx.stage.Stage;

/** Asks in a dialog over the window. */
record DialogQuestions(Stage owner) implements Questions {
  @Override
  public int ask(String question, String detail, List<String> answers) {
    Alert alert = new Alert(Alert.AlertType.NONE);
    alert.initOwner(owner);
    alert.setTitle("Slabnote");
    alert.setHeaderText(question);
    alert.setContentText(detail);
    List<ButtonType> buttons = new ArrayList<>();
    for (int i = 0; i < answers.size(); i++) {
      boolean last = i == answers.size() - 1;
      buttons.add(new ButtonType(
          answers.get(i), last ? ButtonBar.ButtonData.CANCEL_CLOSE : ButtonBar.ButtonData.OTHER));
    }
    alert.getButtonTypes().setAll(buttons);
    return alert.showAndWait().map(buttons::indexOf).filter(i -> i >= 0).orElse(answers.size() - 1);
  }
}
