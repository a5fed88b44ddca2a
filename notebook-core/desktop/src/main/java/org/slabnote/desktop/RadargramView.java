package org.slabnote.desktop;

import java.nio.IntBuffer;
import java.util.List;
import java.util.Optional;
import javafx.beans.property.ReadOnlyStringProperty;
import javafx.beans.property.ReadOnlyStringWrapper;
import javafx.scene.Cursor;
import javafx.scene.canvas.Canvas;
import javafx.scene.image.ImageView;
import javafx.scene.image.PixelBuffer;
import javafx.scene.image.PixelFormat;
import javafx.scene.image.WritableImage;
import javafx.scene.input.KeyEvent;
import javafx.scene.input.MouseButton;
import javafx.scene.input.MouseEvent;
import javafx.scene.input.ScrollEvent;
import javafx.scene.layout.Region;
import org.jspecify.annotations.Nullable;
import org.slabnote.api.quantity.Units;

/**
 * Draws a radargram with its axes, events and picks; the wheel draws nearer, dragging moves, and a
 * click sets a pick where picking is on.
 */
final class RadargramView extends Region {
  static final double LEFT = 58;
  static final double RIGHT = 58;
  static final double TOP = 12;
  static final double BOTTOM = 44;

  /** Gets what is done with the mouse. */
  interface Listener {
    /**
     * A pick is set.
     *
     * @param distance along the pass, metres
     * @param time on the scan's own axis, ns
     */
    void picked(double distance, double time);

    /** A pick of the text is to be taken out. */
    void removed(NotebookModel.PickLine pick);
  }

  private final Listener listener;
  private final ImageView image = new ImageView();
  private final Canvas canvas = new Canvas();
  private final ReadOnlyStringWrapper readout = new ReadOnlyStringWrapper("");
  private @Nullable Picture picture;
  private @Nullable Raster raster;
  private @Nullable PixelBuffer<IntBuffer> pixels;
  private int[] buffer = new int[0];
  private List<NotebookModel.PickLine> picks = List.of();
  private boolean picking;
  private Window window = new Window(0, 1, 0, 1);
  private double pressedX;
  private double pressedY;
  private Window pressedWindow = window;
  private boolean dragged;

  /**
   * The stretch in view.
   *
   * @param from distance at the left edge, metres
   * @param to distance at the right edge
   * @param first time or depth at the upper edge
   * @param last time or depth at the lower edge
   */
  record Window(double from, double to, double first, double last) {}

  RadargramView(Listener listener) {
    this.listener = listener;
    setId("radargram");
    getStyleClass().add("radargram");
    setFocusTraversable(true);
    setAccessibleText("radargram");
    setMinSize(200, 140);
    image.setSmooth(false);
    getChildren().addAll(image, canvas);
    setOnScroll(this::scrolled);
    setOnMousePressed(this::pressed);
    setOnMouseDragged(this::dragged);
    setOnMouseReleased(this::released);
    setOnMouseMoved(event -> readAt(event.getX(), event.getY()));
    setOnMouseExited(event -> readout.set(""));
    setOnKeyPressed(this::key);
  }

  /** What lies under the mouse, in words. */
  ReadOnlyStringProperty readoutProperty() {
    return readout.getReadOnlyProperty();
  }

  /** Shows a picture; the stretch in view stays where the axes are the same. */
  void show(@Nullable Picture shown) {
    Picture before = picture;
    picture = shown;
    raster = shown == null ? null : new Raster(shown.image());
    boolean same = before != null && shown != null && whole(before).equals(whole(shown));
    if (!same && shown != null) {
      window = whole(shown);
    }
    setAccessibleText(
        shown == null
            ? "no radargram"
            : "radargram of pass " + shown.pass() + ", " + shown.channel() + ", "
                + shown.events().size() + " events");
    draw();
  }

  /** The picks in the notebook's text on this pass. */
  void showPicks(List<NotebookModel.PickLine> lines) {
    picks = List.copyOf(lines);
    draw();
  }

  void setPicking(boolean on) {
    picking = on;
    setCursor(on ? Cursor.CROSSHAIR : Cursor.DEFAULT);
  }

  /** Brings the whole picture into view. */
  void showWhole() {
    if (picture != null) {
      window = whole(picture);
      draw();
    }
  }

  private static Window whole(Picture shown) {
    double last = Math.max(shown.image().last(), shown.image().first() + 1e-9);
    return new Window(0, shown.image().length(), shown.image().first(), last);
  }

  private double plotWidth() {
    return Math.max(1, getWidth() - LEFT - RIGHT);
  }

  private double plotHeight() {
    return Math.max(1, getHeight() - TOP - BOTTOM);
  }

  double x(double distance) {
    return LEFT + plotWidth() * (distance - window.from()) / (window.to() - window.from());
  }

  double y(double value) {
    return TOP + plotHeight() * (value - window.first()) / (window.last() - window.first());
  }

  private double distance(double x) {
    return window.from() + (window.to() - window.from()) * (x - LEFT) / plotWidth();
  }

  private double value(double y) {
    return window.first() + (window.last() - window.first()) * (y - TOP) / plotHeight();
  }

  boolean inPlot(double x, double y) {
    return x >= LEFT && x <= LEFT + plotWidth() && y >= TOP && y <= TOP + plotHeight();
  }

  Window window() {
    return window;
  }

  @Override
  protected void layoutChildren() {
    if (canvas.getWidth() != getWidth() || canvas.getHeight() != getHeight()) {
      canvas.setWidth(getWidth());
      canvas.setHeight(getHeight());
      draw();
    }
  }

  private void draw() {
    if (getWidth() < LEFT + RIGHT + 10 || getHeight() < TOP + BOTTOM + 10) {
      return;
    }
    var pen = canvas.getGraphicsContext2D();
    pen.clearRect(0, 0, getWidth(), getHeight());
    if (picture == null || raster == null) {
      image.setImage(null);
      return;
    }
    int width = (int) Math.round(plotWidth());
    int height = (int) Math.round(plotHeight());
    PixelBuffer<IntBuffer> target = pixels;
    if (target == null || target.getWidth() != width || target.getHeight() != height) {
      buffer = new int[width * height];
      target = new PixelBuffer<>(
          width, height, IntBuffer.wrap(buffer), PixelFormat.getIntArgbPreInstance());
      pixels = target;
    }
    raster.fill(buffer, width, height, window.from(), window.to(), window.first(), window.last());
    target.updateBuffer(b -> null);
    if (image.getImage() == null
        || image.getImage().getWidth() != width
        || image.getImage().getHeight() != height) {
      image.setImage(new WritableImage(target));
      image.relocate(LEFT, TOP);
    }
    new RadargramMarks(this, pen, picture, picks).draw(plotWidth(), plotHeight());
  }

  private void scrolled(ScrollEvent event) {
    if (picture != null && event.getDeltaY() != 0) {
      zoom(event.getDeltaY() > 0 ? 0.8 : 1.25, event.getX(), event.getY());
      readAt(event.getX(), event.getY());
      event.consume();
    }
  }

  private void zoom(double factor, double x, double y) {
    if (picture == null) {
      return;
    }
    Window all = whole(picture);
    double d = distance(x);
    double v = value(y);
    window = within(
        all,
        d - (d - window.from()) * factor,
        d + (window.to() - d) * factor,
        v - (v - window.first()) * factor,
        v + (window.last() - v) * factor);
    draw();
  }

  private static Window within(Window all, double from, double to, double first, double last) {
    double wide = Math.min(to - from, all.to() - all.from());
    double high = Math.min(last - first, all.last() - all.first());
    wide = Math.max(wide, (all.to() - all.from()) / 2000);
    high = Math.max(high, (all.last() - all.first()) / 200);
    double left = Math.max(all.from(), Math.min(from, all.to() - wide));
    double top = Math.max(all.first(), Math.min(first, all.last() - high));
    return new Window(left, left + wide, top, top + high);
  }

  private void pressed(MouseEvent event) {
    requestFocus();
    pressedX = event.getX();
    pressedY = event.getY();
    pressedWindow = window;
    dragged = false;
  }

  private void dragged(MouseEvent event) {
    double dx = event.getX() - pressedX;
    double dy = event.getY() - pressedY;
    if (!dragged && Math.abs(dx) + Math.abs(dy) < 5) {
      return;
    }
    dragged = true;
    if (picture != null) {
      Window from = pressedWindow;
      double d = dx * (from.to() - from.from()) / plotWidth();
      double v = dy * (from.last() - from.first()) / plotHeight();
      window =
          within(whole(picture), from.from() - d, from.to() - d, from.first() - v, from.last() - v);
      draw();
    }
  }

  private void released(MouseEvent event) {
    Picture shown = picture;
    if (dragged || shown == null || !inPlot(event.getX(), event.getY())) {
      return;
    }
    if (event.getButton() == MouseButton.PRIMARY && picking && shown.pickable()) {
      listener.picked(distance(event.getX()), value(event.getY()) + shown.surface());
    } else if (event.getButton() == MouseButton.SECONDARY) {
      nearest(event.getX(), event.getY()).ifPresent(listener::removed);
    }
  }

  private Optional<NotebookModel.PickLine> nearest(double x, double y) {
    double surface = picture == null ? 0 : picture.surface();
    NotebookModel.PickLine best = null;
    double least = 8;
    for (NotebookModel.PickLine pick : picks) {
      double away = Math.hypot(x(pick.distance()) - x, y(pick.time() - surface) - y);
      if (away < least) {
        least = away;
        best = pick;
      }
    }
    return Optional.ofNullable(best);
  }

  private void key(KeyEvent event) {
    double wide = window.to() - window.from();
    double high = window.last() - window.first();
    switch (event.getCode()) {
      case PLUS, EQUALS, ADD -> zoom(0.8, LEFT + plotWidth() / 2, TOP + plotHeight() / 2);
      case MINUS, SUBTRACT -> zoom(1.25, LEFT + plotWidth() / 2, TOP + plotHeight() / 2);
      case LEFT -> move(-0.1 * wide, 0);
      case RIGHT -> move(0.1 * wide, 0);
      case UP -> move(0, -0.1 * high);
      case DOWN -> move(0, 0.1 * high);
      case HOME -> showWhole();
      default -> {
        return;
      }
    }
    event.consume();
  }

  private void move(double d, double v) {
    if (picture != null) {
      window = within(
          whole(picture),
          window.from() + d,
          window.to() + d,
          window.first() + v,
          window.last() + v);
      draw();
    }
  }

  private void readAt(double x, double y) {
    Picture shown = picture;
    if (shown == null || !inPlot(x, y)) {
      readout.set("");
      return;
    }
    double v = value(y);
    String place = Units.fixed(distance(x), 3) + " m along the pass";
    if (shown.image().depth()) {
      readout.set(place + ", depth " + Units.fixed(v * 1000, 0) + " mm");
      return;
    }
    String time = shown.surfaceKnown()
        ? Units.fixed(v, 2) + " ns after the surface (" + Units.fixed(v + shown.surface(), 2)
            + " ns in the scan)"
        : Units.fixed(v, 2) + " ns in the scan";
    String depth = shown
        .depth(v)
        .map(z -> ", a plane there would lie " + Units.fixed(z * 1000, 0) + " mm deep")
        .orElse("");
    readout.set(place + ", " + time + depth);
  }
}
