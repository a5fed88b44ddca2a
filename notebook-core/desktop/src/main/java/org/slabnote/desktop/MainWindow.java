package org.slabnote.desktop;

import atlantafx.base.theme.PrimerLight;
import java.io.UncheckedIOException;
import java.util.List;
import java.util.Objects;
import javafx.animation.PauseTransition;
import javafx.application.Application;
import javafx.geometry.Rectangle2D;
import javafx.scene.Scene;
import javafx.scene.control.Button;
import javafx.scene.control.Label;
import javafx.scene.control.ListView;
import javafx.scene.control.ProgressBar;
import javafx.scene.control.SplitPane;
import javafx.scene.control.Tab;
import javafx.scene.control.TabPane;
import javafx.scene.control.ToggleButton;
import javafx.scene.control.Tooltip;
import javafx.scene.input.KeyCode;
import javafx.scene.input.KeyEvent;
import javafx.scene.layout.BorderPane;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Priority;
import javafx.scene.layout.Region;
import javafx.scene.layout.VBox;
import javafx.stage.Screen;
import javafx.stage.Stage;
import javafx.util.Duration;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Problem;

/** The window of a job. */
final class MainWindow {
  private static final Duration QUIET = Duration.millis(700);

  /** Between two looks at the files of the job, while the window has the keys. */
  private static final Duration LOOK = Duration.seconds(15);

  private final Stage stage;
  private final NotebookFile file;
  private final Questions questions;
  private final NotebookModel model;
  private final CellStates states = new CellStates();
  private final RunController runs;
  private final NotebookView notebook;
  private final PlanView plan;
  private final RadargramPane radargram;
  private final FindingsView findings = new FindingsView();
  private final TabPane tabs = new TabPane();
  private final Label title = new Label();
  private final Label banner = new Label();
  private final ListView<Problem> problems = new ListView<>();
  private final PauseTransition pause = new PauseTransition(QUIET);
  private final PauseTransition look = new PauseTransition(LOOK);

  MainWindow(Stage stage, NotebookFile file, String text, JobRun job, Questions questions) {
    this.stage = stage;
    this.file = file;
    this.questions = questions;
    model = new NotebookModel(text);
    runs = new RunController(job, states, this::showStates, this::found);
    notebook = new NotebookView(model);
    radargram = new RadargramPane(model, address -> run());
    plan = new PlanView(this::passChosen);
    pause.setOnFinished(event -> {
      if (!runs.runningProperty().get()) {
        runs.check(model.document());
      }
    });
    model.documentProperty().addListener((property, before, now) -> {
      showStates();
      pause.playFromStart();
    });
    Application.setUserAgentStylesheet(new PrimerLight().getUserAgentStylesheet());
    Scene scene = new Scene(root(), width(), height());
    scene
        .getStylesheets()
        .add(Objects.requireNonNull(MainWindow.class.getResource("window.css"), "window.css")
            .toExternalForm());
    scene.addEventFilter(KeyEvent.KEY_PRESSED, this::key);
    stage.setScene(scene);
    stage.setMinWidth(900);
    stage.setMinHeight(560);
    stage.setOnCloseRequest(event -> {
      if (!mayClose()) {
        event.consume();
      }
    });
    look.setOnFinished(event -> look());
    stage.focusedProperty().addListener((property, before, now) -> look());
    stage.setOnHidden(event -> {
      pause.stop();
      look.stop();
      runs.close();
      radargram.close();
    });
    title.setText(file.job().getFileName().toString());
    showStates();
    runs.open(model.document());
  }

  void show() {
    stage.show();
  }

  NotebookModel model() {
    return model;
  }

  private static double width() {
    Rectangle2D screen = Screen.getPrimary().getVisualBounds();
    return Math.min(1680, screen.getWidth());
  }

  private static double height() {
    Rectangle2D screen = Screen.getPrimary().getVisualBounds();
    return Math.min(1040, screen.getHeight());
  }

  private BorderPane root() {
    BorderPane root = new BorderPane();
    root.getStyleClass().add("window");
    root.setTop(head());
    SplitPane split = new SplitPane(left(), right());
    split.setDividerPositions(0.46);
    root.setCenter(split);
    return root;
  }

  private VBox head() {
    title.setId("job-title");
    title.getStyleClass().add("job-title");
    title.setMaxWidth(Double.MAX_VALUE);
    title.setMinWidth(80);
    HBox.setHgrow(title, Priority.ALWAYS);
    Button run =
        button("run", "Run", "Runs the notebook as it stands and writes nothing. Ctrl+Enter");
    run.setOnAction(event -> run());
    run.getStyleClass().add("main-button");
    Button record = button(
        "record",
        "Save, run and record",
        "Saves the notebook, runs it and writes the record. Ctrl+Shift+Enter");
    record.setOnAction(event -> record());
    Button cancel = button("cancel", "Cancel", "Stops the run. What was computed is remembered");
    cancel.setOnAction(event -> runs.cancel());
    Button save = button("save", "Save", "Writes interpretation.md. Ctrl+S");
    save.setOnAction(event -> save());
    run.disableProperty().bind(runs.runningProperty());
    record.disableProperty().bind(runs.runningProperty());
    cancel.disableProperty().bind(runs.runningProperty().not());
    save.disableProperty().bind(model.unsavedProperty().not());
    ToggleButton asText = new ToggleButton("Whole text");
    asText.setId("whole");
    asText.setTooltip(new Tooltip("Shows the notebook as one text, to add and move cells"));
    asText.setOnAction(event -> {
      notebook.showAsText(asText.isSelected());
      showStates();
    });
    HBox bar = new HBox(8, title, asText, save, run, record, cancel);
    bar.getStyleClass().add("bar");
    return new VBox(bar, status());
  }

  private static Button button(String id, String words, String tip) {
    Button button = new Button(words);
    button.setId(id);
    button.setTooltip(new Tooltip(tip));
    button.setAccessibleHelp(tip);
    button.setMinWidth(Region.USE_PREF_SIZE);
    return button;
  }

  private HBox status() {
    ProgressBar progress = new ProgressBar();
    progress.setId("progress");
    progress.setAccessibleText("progress of the run");
    progress.progressProperty().bind(runs.shareProperty());
    progress.visibleProperty().bind(runs.runningProperty());
    progress.managedProperty().bind(runs.runningProperty());
    progress.setPrefWidth(180);
    Label words = new Label();
    words.setId("words");
    words.textProperty().bind(runs.wordsProperty());
    Tooltip whole = new Tooltip();
    whole.textProperty().bind(words.textProperty());
    whole.setWrapText(true);
    whole.setMaxWidth(700);
    words.setTooltip(whole);
    words.setMaxWidth(Double.MAX_VALUE);
    words.setMinWidth(120);
    HBox.setHgrow(words, Priority.ALWAYS);
    // here, and not over the pictures: a pick must not move under the mouse
    banner.setId("banner");
    banner.getStyleClass().add("banner");
    banner.setMinWidth(Region.USE_PREF_SIZE);
    HBox status = new HBox(10, progress, words, banner);
    status.getStyleClass().add("status");
    return status;
  }

  private BorderPane left() {
    problems.setId("problems");
    problems.setAccessibleText("problems");
    problems.setFixedCellSize(-1);
    problems.setCellFactory(list -> new ProblemCell(problem -> {
      if (problem.file().equals(model.document().file()) && problem.line() > 0) {
        notebook.goTo(problem.line());
      }
    }));
    problems.managedProperty().bind(problems.visibleProperty());
    problems.setPrefHeight(130);
    BorderPane left = new BorderPane(notebook);
    left.setBottom(problems);
    left.setMinWidth(340);
    return left;
  }

  private BorderPane right() {
    tabs.setTabClosingPolicy(TabPane.TabClosingPolicy.UNAVAILABLE);
    Label legend =
        new Label("Lines: findings, with letter (M metal, N non-metal, ? not classified) "
            + "and depth to the top in mm; the band is the diameter and twice the expanded uncertainty; "
            + "dashed where seen on one pass or two. Dotted: passes; click one for its radargram. "
            + "Circles: proposed cuts. Hatched: not scanned or not seen from the surface on.");
    legend.setWrapText(true);
    legend.setMinHeight(Region.USE_PREF_SIZE);
    legend.getStyleClass().add("caption");
    BorderPane planPane = new BorderPane(plan);
    planPane.setBottom(legend);
    tabs.getTabs()
        .addAll(
            new Tab("Plan", planPane),
            new Tab("Radargram", radargram),
            new Tab("Conclusions and findings", findings));
    BorderPane right = new BorderPane(tabs);
    right.setMinWidth(360);
    return right;
  }

  private void key(KeyEvent event) {
    if (!event.isShortcutDown()) {
      return;
    }
    if (event.getCode() == KeyCode.ENTER) {
      if (event.isShiftDown()) {
        record();
      } else {
        run();
      }
      event.consume();
    } else if (event.getCode() == KeyCode.S) {
      save();
      event.consume();
    }
  }

  private void passChosen(String pass) {
    radargram.showPass(pass);
    tabs.getSelectionModel().select(1);
  }

  private void found(Results results) {
    if (!results.title().isBlank()) {
      title.setText(results.title());
    }
    plan.show(results.plan());
    radargram.show(results);
    if (states.hasRun()) {
      findings.show(results);
    }
    showStates();
  }

  /** Looks whether a file of the job changed: when the window gets the keys, and now and then. */
  void look() {
    if (stage.isFocused()) {
      runs.look(model.document());
      look.playFromStart();
    } else {
      look.stop();
    }
  }

  private void showStates() {
    notebook.show(states.of(model.document()), states.problems());
    problems.getItems().setAll(states.problems());
    problems.setVisible(!states.problems().isEmpty());
    banner.setText(
        "Out of date: what is drawn comes from the last complete run, not from the job as it is now.");
    banner.setVisible(
        states.outOfDate(model.document()) && !runs.runningProperty().get());
    String mark = model.unsavedProperty().get() ? " (not saved)" : "";
    stage.setTitle(title.getText() + mark + " - Slabnote");
  }

  private void run() {
    runs.run(model.document(), radargram.asked());
  }

  private void record() {
    if (!runs.runningProperty().get() && (!model.unsavedProperty().get() || save())) {
      if (file.changedOnDisk() && !save()) {
        return;
      }
      runs.record(model.document());
    }
  }

  /** Saves, after asking where the file on disk is another than the one that was read. */
  private boolean save() {
    if (file.changedOnDisk()) {
      int answer = questions.ask(
          "interpretation.md changed on disk since it was read.",
          "Writing replaces what stands there. Reading takes what stands there, and what was edited "
              + "here is lost.",
          List.of("Write mine", "Read the one on disk", "Leave both"));
      if (answer == 1) {
        return readAgain();
      }
      if (answer == 2) {
        return false;
      }
    }
    try {
      file.write(model.text());
      model.markSaved();
      showStates();
      return true;
    } catch (UncheckedIOException e) {
      questions.ask(
          "The notebook was not saved.", String.valueOf(e.getMessage()), List.of("Go on"));
      return false;
    }
  }

  private boolean readAgain() {
    try {
      model.replaceAll(file.read());
      model.markSaved();
      showStates();
      return true;
    } catch (BadInput bad) {
      questions.ask(
          "The notebook was not read.", String.valueOf(bad.getMessage()), List.of("Go on"));
      return false;
    }
  }

  private boolean mayClose() {
    if (!model.unsavedProperty().get()) {
      return true;
    }
    int answer = questions.ask(
        "The notebook has changes that are not saved.",
        "They are lost if the window closes without saving.",
        List.of("Save and close", "Close without saving", "Keep open"));
    return answer == 1 || answer == 0 && save();
  }
}
