package org.slabnote.desktop;

import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.function.Consumer;
import javafx.application.Platform;
import javafx.scene.control.Button;
import javafx.scene.control.ComboBox;
import javafx.scene.control.Label;
import javafx.scene.control.ToggleButton;
import javafx.scene.layout.BorderPane;
import javafx.scene.layout.FlowPane;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Region;
import javafx.scene.layout.StackPane;
import javafx.scene.layout.VBox;
import org.jspecify.annotations.Nullable;

/** Chooses a step and a pass, draws its radargram, and writes picks into the notebook's text. */
final class RadargramPane extends BorderPane implements AutoCloseable {
  private static final String NEW_BLOCK = "a block of this pass";

  private final NotebookModel model;
  private final Consumer<String> wanted;
  private final ComboBox<String> groups = new ComboBox<>();
  private final ComboBox<String> passes = new ComboBox<>();
  private final ToggleButton picking = new ToggleButton("Set picks");
  private final ComboBox<String> blocks = new ComboBox<>();
  private final Label caption = new Label();
  private final Label readout = new Label();
  private final Label notice = new Label();
  private final Button compute = new Button("Compute this step");
  private final RadargramView view;
  private final ExecutorService reader = Executors.newSingleThreadExecutor(work -> {
    Thread thread = new Thread(work, "pictures");
    thread.setDaemon(true);
    return thread;
  });
  private final Set<String> asked = new LinkedHashSet<>();
  private @Nullable Results results;
  private @Nullable Picture picture;
  private long turn;
  private boolean filling;
  private boolean chosen;

  /** @param wanted gets the address of a step whose value is not there yet */
  RadargramPane(NotebookModel model, Consumer<String> wanted) {
    this.model = model;
    this.wanted = wanted;
    getStyleClass().add("radargram-pane");
    view = new RadargramView(new RadargramView.Listener() {
      @Override
      public void picked(double distance, double time) {
        pick(distance, time);
      }

      @Override
      public void removed(NotebookModel.PickLine pick) {
        model.removePick(pick);
      }
    });
    setTop(controls());
    setCenter(new StackPane(view, notice()));
    caption.getStyleClass().add("caption");
    caption.setWrapText(true);
    caption.setMinHeight(Region.USE_PREF_SIZE);
    readout.getStyleClass().add("readout");
    readout.textProperty().bind(view.readoutProperty());
    setBottom(new VBox(readout, caption));
    model.documentProperty().addListener((property, before, now) -> textChanged());
    textChanged();
  }

  private FlowPane controls() {
    groups.setId("step");
    groups.setAccessibleText("step");
    groups.setPrefWidth(210);
    groups.setOnAction(event -> {
      if (!filling) {
        chosen = true;
        groupChosen();
      }
    });
    passes.setId("pass");
    passes.setAccessibleText("pass");
    passes.setOnAction(event -> shownChosen());
    picking.setId("set-picks");
    picking.setOnAction(event -> view.setPicking(picking.isSelected()));
    blocks.setId("pick-block");
    blocks.setAccessibleText("csv block that picks are written to");
    blocks.disableProperty().bind(picking.selectedProperty().not());
    Button whole = new Button("Whole pass");
    whole.setOnAction(event -> view.showWhole());
    FlowPane bar = new FlowPane(
        new HBox(4, new Label("Step"), groups),
        new HBox(4, new Label("Pass"), passes),
        whole,
        picking,
        new HBox(4, new Label("into"), blocks));
    bar.getStyleClass().add("controls");
    return bar;
  }

  private VBox notice() {
    notice.setWrapText(true);
    notice.setId("radargram-notice");
    compute.setId("compute-step");
    VBox box = new VBox(10, notice, compute);
    box.getStyleClass().add("notice");
    box.setMaxSize(380, Region.USE_PREF_SIZE);
    box.visibleProperty().bind(notice.textProperty().isNotEmpty());
    compute.managedProperty().bind(compute.visibleProperty());
    say("Nothing has run yet. Run the notebook to see the steps it shows.");
    return box;
  }

  private void say(String words) {
    notice.setText(words);
    compute.setVisible(false);
  }

  /** Addresses of steps that were asked for beyond what the notebook shows. */
  List<String> asked() {
    return List.copyOf(asked);
  }

  /** Takes over what a run found; the step and pass in view stay where they are still there. */
  void show(Results found) {
    results = found;
    List<String> names =
        found.shown().stream().map(Results.Shown::group).distinct().toList();
    asked.removeIf(a -> found.shown().stream().noneMatch(s -> s.address().equals(a)));
    String before = groups.getValue();
    filling = true;
    groups.getItems().setAll(names);
    boolean stays = chosen && before != null && names.contains(before);
    groups.setValue(stays ? before : names.isEmpty() ? null : names.get(0));
    filling = false;
    groupChosen();
  }

  /** Brings a pass into view, of the step in view where it has that pass. */
  void showPass(String pass) {
    if (!passes.getItems().contains(pass)) {
      Results now = results;
      Optional<Results.Shown> first = now == null
          ? Optional.empty()
          : now.shown().stream().filter(s -> s.pass().equals(pass)).findFirst();
      first.ifPresent(shown -> {
        groups.setValue(shown.group());
        groupChosen();
      });
    }
    passes.setValue(pass);
  }

  private void groupChosen() {
    Results now = results;
    if (filling || now == null || groups.getValue() == null) {
      return;
    }
    List<String> names = new ArrayList<>();
    for (Results.Shown shown : now.shown()) {
      if (shown.group().equals(groups.getValue())) {
        names.add(shown.pass());
      }
    }
    String before = passes.getValue();
    filling = true;
    passes.getItems().setAll(names);
    passes.setValue(names.contains(before) ? before : names.get(0));
    passes.setDisable(names.size() < 2);
    filling = false;
    shownChosen();
  }

  private void shownChosen() {
    Results now = results;
    if (filling || now == null) {
      return;
    }
    now.shown().stream()
        .filter(s -> s.group().equals(groups.getValue()) && s.pass().equals(passes.getValue()))
        .findFirst()
        .ifPresent(shown -> load(now, shown));
  }

  private void load(Results from, Results.Shown shown) {
    long mine = ++turn;
    reader.execute(() -> {
      Optional<Picture> read = Picture.of(from, shown);
      boolean there = read.isPresent() || from.values().apply(shown.address()).isPresent();
      Platform.runLater(() -> {
        if (mine == turn) {
          draw(shown, read, there);
        }
      });
    });
  }

  private void draw(Results.Shown shown, Optional<Picture> read, boolean there) {
    picture = read.orElse(null);
    view.show(picture);
    caption.setText(
        read.map(p -> "Step " + p.address() + ", pass " + p.pass() + ", " + p.channel() + ": "
                + p.treatment()
                + ". Grey is compressed for viewing; no figure is read from it. Ring with a name: "
                + "explained by that finding. Cross: rejected with a reason. ?: open. +: pick.")
            .orElse(""));
    picking.setDisable(read.isEmpty() || !read.get().pickable());
    textChanged();
    if (read.isPresent()) {
      say("");
    } else if (there) {
      say("Step " + shown.address() + " is no radargram or section. Choose another step.");
    } else {
      say("Step " + shown.address() + " is not among what the notebook shows. "
          + "It can be computed for a look; the notebook stays as it is.");
      compute.setVisible(true);
      compute.setOnAction(event -> {
        asked.add(shown.address());
        chosen = true;
        wanted.accept(shown.address());
      });
    }
  }

  private void textChanged() {
    Picture now = picture;
    String pass = now == null ? "" : now.pass();
    view.showPicks(
        model.picks().stream().filter(pick -> pick.pass().equals(pass)).toList());
    List<String> names = new ArrayList<>(model.pickBlocks());
    String own = now == null ? NEW_BLOCK : NotebookModel.blockFor(pass);
    if (!names.contains(own)) {
      names.add(own);
    }
    if (!names.equals(blocks.getItems())) {
      String before = blocks.getValue();
      blocks.getItems().setAll(names);
      blocks.setValue(names.contains(before) && !NEW_BLOCK.equals(before) ? before : own);
    }
  }

  private void pick(double distance, double time) {
    Picture now = picture;
    String block = blocks.getValue();
    if (now != null && block != null) {
      model.addPick(block, now.pass(), distance, time);
    }
  }

  @Override
  public void close() {
    reader.shutdownNow();
  }
}
