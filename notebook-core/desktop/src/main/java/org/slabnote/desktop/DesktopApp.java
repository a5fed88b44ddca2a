package org.slabnote.desktop;

import java.nio.file.Path;
import javafx.application.Application;
import javafx.scene.control.Alert;
import javafx.stage.Stage;
import org.slabnote.engine.problem.BadInput;

/**
 * The JavaFX application behind {@link DesktopLauncher}.
 *
 * @since 0.1
 */
public final class DesktopApp extends Application {
  /** For JavaFX, which makes the one instance. */
  public DesktopApp() {}

  @Override
  public void start(Stage stage) {
    Path job = Path.of(getParameters().getRaw().get(0));
    try {
      NotebookFile file = new NotebookFile(job);
      MainWindow window =
          new MainWindow(stage, file, file.read(), EngineRun.of(job), new DialogQuestions(stage));
      window.show();
    } catch (BadInput bad) {
      Alert alert = new Alert(Alert.AlertType.ERROR);
      alert.setHeaderText("The job cannot be opened");
      alert.setContentText(bad.getMessage());
      alert.showAndWait();
    }
  }
}
