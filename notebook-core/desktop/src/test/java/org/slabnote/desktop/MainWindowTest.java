package org.slabnote.desktop;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;
import java.util.concurrent.Callable;
import java.util.concurrent.TimeUnit;
import javafx.geometry.Bounds;
import javafx.scene.Node;
import javafx.scene.control.Button;
import javafx.scene.control.ComboBox;
import javafx.scene.control.Label;
import javafx.scene.control.TabPane;
import javafx.scene.input.KeyCode;
import javafx.scene.input.MouseButton;
import javafx.stage.Stage;
import javafx.stage.WindowEvent;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.api.io.TempDir;
import org.slabnote.engine.trace.OutOfDate;
import org.testfx.api.FxRobot;
import org.testfx.framework.junit5.ApplicationExtension;
import org.testfx.framework.junit5.Start;
import org.testfx.util.WaitForAsyncUtils;

@ExtendWith(ApplicationExtension.class)
class MainWindowTest {
  @TempDir
  static Path folder;

  private final FakeRun job = new FakeRun();
  private final Deque<Integer> answers = new ArrayDeque<>();
  private Path notebook = Path.of("");
  private MainWindow window;
  private Stage stage;

  @Start
  void start(Stage shown) throws Exception {
    Path place = Files.createTempDirectory(folder, "job");
    notebook = place.resolve("interpretation.md");
    Files.writeString(notebook, SlabFixture.NOTEBOOK);
    NotebookFile file = new NotebookFile(place);
    stage = shown;
    stage.setWidth(1280);
    stage.setHeight(800);
    window = new MainWindow(
        shown, file, file.read(), job, (question, detail, choices) -> answers.remove());
    window.show();
  }

  private static void until(Callable<Boolean> condition) throws Exception {
    WaitForAsyncUtils.waitFor(10, TimeUnit.SECONDS, condition);
    WaitForAsyncUtils.waitForFxEvents();
  }

  private static String text(FxRobot robot, String id) {
    return robot.lookup(id).queryAs(Label.class).getText();
  }

  private String model(FxRobot robot) {
    return robot.interact(() -> {}) == null ? "" : window.model().text();
  }

  private void run(FxRobot robot) throws Exception {
    robot.clickOn("#run");
    until(() -> text(robot, "#words").startsWith("Done"));
  }

  private void typeIntoSetup(FxRobot robot, String words) {
    BlockPane.Code cell = robot.lookup("#cell-setup").queryAs(BlockPane.Code.class);
    robot.interact(() -> cell.editor().goTo(6));
    robot.write(words);
    WaitForAsyncUtils.waitForFxEvents();
  }

  @Test
  void openingShowsTheNotebookAndRunsNothing(FxRobot robot) throws Exception {
    until(() -> text(robot, "#job-title").equals("Landing"));

    assertThat(text(robot, "#state-setup")).isEqualTo("not run");
    assertThat(text(robot, "#state-velocity")).isEqualTo("not run");
    assertThat(
            robot.lookup("#cell-setup").queryAs(BlockPane.Code.class).editor().text())
        .isEqualTo("var across = scans(ACROSS);");
    assertThat(robot.lookup("#data-picks-E01").tryQuery()).isPresent();
    assertThat(robot.lookup(".heading-1-text").tryQuery()).isPresent();
    assertThat(job.runs).hasValue(0);
    assertThat(stage.getTitle()).isEqualTo("Landing - Slabnote");
  }

  @Test
  void typingInACellChangesTheTextAndNothingElse(FxRobot robot) {
    typeIntoSetup(robot, "int a;");

    assertThat(model(robot))
        .isEqualTo(SlabFixture.NOTEBOOK.replace("var across = scans", "int a;var across = scans"));
    assertThat(robot.lookup("#save").queryAs(Button.class).isDisabled()).isFalse();
    assertThat(stage.getTitle()).contains("(not saved)");
  }

  @Test
  void aCompileErrorIsToldAtItsLine(FxRobot robot) throws Exception {
    typeIntoSetup(robot, "nonsense ");

    until(() -> text(robot, "#state-setup").equals("does not compile, line 6"));
    assertThat(text(robot, "#problems-setup"))
        .isEqualTo("line 6: cannot find symbol: variable nonsense");
    assertThat(robot.lookup(".wrong-number").queryAs(Label.class).getText()).isEqualTo("! 6");
    assertThat(job.runs).hasValue(0);
  }

  @Test
  void aRunShowsItsResultsAndAChangeMakesThemOutOfDate(FxRobot robot) throws Exception {
    run(robot);

    assertThat(text(robot, "#state-setup")).isEqualTo("done");
    assertThat(robot.lookup("#plan").query().getAccessibleText())
        .isEqualTo("plan of the slab with 1 findings and 1 proposed cuts");
    assertThat(job.ran).isEqualTo(SlabFixture.NOTEBOOK);
    assertThat(Files.readString(notebook)).isEqualTo(SlabFixture.NOTEBOOK);
    assertThat(job.records).hasValue(0);

    typeIntoSetup(robot, "int a;");
    assertThat(text(robot, "#state-velocity")).isEqualTo("done");
    assertThat(text(robot, "#state-setup")).isEqualTo("out of date: it was edited");
    assertThat(robot.lookup("#banner").query().isVisible()).isTrue();
    job.outOfDate = stale("velocity", "cell `setup` was edited");
    typeIntoSetup(robot, " ");
    until(() -> text(robot, "#state-velocity").equals("out of date: cell `setup` was edited"));
  }

  @Test
  void aFileThatChangedOnDiskIsToldWhenTheWindowGetsTheKeys(FxRobot robot) throws Exception {
    run(robot);
    job.outOfDate = stale("velocity", "scan E01 changed");
    robot.interact(() -> window.look());
    until(() -> text(robot, "#state-velocity").equals("out of date: scan E01 changed"));
    assertThat(text(robot, "#state-setup")).isEqualTo("done");
    assertThat(robot.lookup("#banner").query().isVisible()).isTrue();
  }

  private static OutOfDate stale(String cell, String reason) {
    return new OutOfDate(List.of(new OutOfDate.Stale(cell, List.of(), List.of(reason))), List.of());
  }

  @Test
  void controlEnterRunsAndCancelStops(FxRobot robot) throws Exception {
    job.waitForCancel();
    robot.press(KeyCode.CONTROL, KeyCode.ENTER).release(KeyCode.ENTER, KeyCode.CONTROL);

    until(() -> text(robot, "#state-setup").equals("running: across/E01 40 %"));
    assertThat(text(robot, "#state-velocity")).isEqualTo("waiting");
    assertThat(text(robot, "#words")).isEqualTo("computing: 1 of 4 steps, about 10 s left");

    robot.clickOn("#cancel");
    until(() -> text(robot, "#words").startsWith("Cancelled"));
    assertThat(robot.lookup("#run").queryAs(Button.class).isDisabled()).isFalse();
  }

  @Test
  void aClickOnTheRadargramBecomesALineAndASecondaryClickTakesItOut(FxRobot robot)
      throws Exception {
    run(robot);
    job.outOfDate = stale("velocity", "data `picks-E01` changed");
    robot.interact(() ->
        robot.lookup(".tab-pane").queryAs(TabPane.class).getSelectionModel().select(1));
    until(() -> robot.lookup("#radargram").query().getAccessibleText().contains("pass E01"));
    until(() ->
        "picks-E01".equals(robot.lookup("#pick-block").queryAs(ComboBox.class).getValue()));
    robot.clickOn("#set-picks");

    RadargramView view = robot.lookup("#radargram").queryAs(RadargramView.class);
    Bounds place =
        robot.interact(() -> {}) == null ? null : view.localToScreen(view.getBoundsInLocal());
    double x = Math.round(place.getMinX() + view.x(0.4));
    double y = Math.round(place.getMinY() + view.y(3));
    robot.clickOn(x, y);
    WaitForAsyncUtils.waitForFxEvents();

    NotebookModel.PickLine pick = window.model().picks().get(1);
    assertThat(pick.block()).isEqualTo("picks-E01");
    assertThat(pick.pass()).isEqualTo("E01");
    assertThat(pick.distance()).isCloseTo(0.4, org.assertj.core.api.Assertions.within(0.003));
    // 3 ns after the surface, which lies at 1 ns of the scan's own axis
    assertThat(pick.time()).isCloseTo(4.0, org.assertj.core.api.Assertions.within(0.03));
    assertThat(model(robot)).contains("E01,0.2000,2.0000\nE01,0.");
    assertThat(robot.lookup("#banner").query().isVisible()).isTrue();
    until(() -> text(robot, "#state-velocity").equals("out of date: data `picks-E01` changed"));
    assertThat(text(robot, "#state-setup")).isEqualTo("done");

    robot.moveTo(x, y).clickOn(MouseButton.SECONDARY);
    WaitForAsyncUtils.waitForFxEvents();
    assertThat(model(robot)).isEqualTo(SlabFixture.NOTEBOOK);
  }

  @Test
  void savingWritesTheTextAndAsksWhenAnotherHandWroteIt(FxRobot robot) throws Exception {
    typeIntoSetup(robot, "int a;");
    robot.press(KeyCode.CONTROL, KeyCode.S).release(KeyCode.S, KeyCode.CONTROL);
    WaitForAsyncUtils.waitForFxEvents();
    assertThat(Files.readString(notebook)).contains("int a;var across");

    Files.writeString(notebook, "another hand");
    typeIntoSetup(robot, "int b;");
    answers.add(2);
    robot.clickOn("#save");
    assertThat(Files.readString(notebook)).isEqualTo("another hand");
    answers.add(1);
    robot.clickOn("#save");
    WaitForAsyncUtils.waitForFxEvents();
    assertThat(model(robot)).isEqualTo("another hand");
  }

  @Test
  void closingWithChangesAsks(FxRobot robot) throws Exception {
    typeIntoSetup(robot, "int a;");
    answers.add(2);
    robot.interact(() -> stage.fireEvent(new WindowEvent(stage, WindowEvent.WINDOW_CLOSE_REQUEST)));
    assertThat(stage.isShowing()).isTrue();

    answers.add(0);
    robot.interact(() -> stage.fireEvent(new WindowEvent(stage, WindowEvent.WINDOW_CLOSE_REQUEST)));
    assertThat(Files.readString(notebook)).contains("int a;var across");
  }

  @Test
  void theWholeTextCanBeEdited(FxRobot robot) {
    robot.clickOn("#whole");
    CodeEditor whole = robot.lookup("#whole-text").queryAs(CodeEditor.class);
    robot.interact(() -> whole.goTo(3));
    robot.write("Truly: ");
    WaitForAsyncUtils.waitForFxEvents();

    assertThat(model(robot)).isEqualTo(SlabFixture.NOTEBOOK.replace("One pass", "Truly: One pass"));
  }

  @Test
  void proseIsEditedInPlaceAndIsInTheTextAtOnce(FxRobot robot) {
    robot.doubleClickOn(".heading-1-text");
    robot.press(KeyCode.CONTROL, KeyCode.HOME).release(KeyCode.HOME, KeyCode.CONTROL);
    robot.write("Upper ");
    WaitForAsyncUtils.waitForFxEvents();

    assertThat(model(robot)).isEqualTo("Upper " + SlabFixture.NOTEBOOK);
    assertThat(robot.lookup("#save").queryAs(Button.class).isDisabled()).isFalse();

    robot.clickOn("Leave as it was");
    WaitForAsyncUtils.waitForFxEvents();
    assertThat(model(robot)).isEqualTo(SlabFixture.NOTEBOOK);
  }

  @Test
  void aStepThatTheNotebookDoesNotShowIsComputedWhenAsked(FxRobot robot) throws Exception {
    until(() -> text(robot, "#job-title").equals("Landing"));
    robot.interact(() ->
        robot.lookup(".tab-pane").queryAs(TabPane.class).getSelectionModel().select(1));
    until(() -> robot.lookup("#compute-step").query().isVisible());
    assertThat(text(robot, "#radargram-notice")).startsWith("Step scan/E01/across is not among");

    robot.clickOn("#compute-step");
    until(() -> text(robot, "#words").startsWith("Done"));
    assertThat(job.more).containsExactly("scan/E01/across");
  }

  @Test
  void everyControlHasAName(FxRobot robot) {
    for (String id : new String[] {"#step", "#pass", "#pick-block", "#radargram", "#plan"}) {
      robot.interact(() -> robot
          .lookup(".tab-pane")
          .queryAs(TabPane.class)
          .getSelectionModel()
          .select(id.equals("#plan") ? 0 : 1));
      Node node = robot.lookup(id).query();
      assertThat(node.getAccessibleText()).as(id).isNotBlank();
    }
  }
}
