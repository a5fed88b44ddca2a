package org.slabnote.desktop;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.function.Consumer;
import javafx.geometry.Rectangle2D;
import javafx.geometry.VPos;
import javafx.scene.canvas.Canvas;
import javafx.scene.canvas.GraphicsContext;
import javafx.scene.layout.Region;
import javafx.scene.paint.Color;
import javafx.scene.shape.StrokeLineCap;
import javafx.scene.text.Font;
import javafx.scene.text.FontWeight;
import javafx.scene.text.TextAlignment;
import org.jspecify.annotations.Nullable;
import org.slabnote.api.Cut;
import org.slabnote.api.Point;
import org.slabnote.api.SurveyRow;
import org.slabnote.api.Target;
import org.slabnote.api.Visibility;
import org.slabnote.api.quantity.Units;
import org.slabnote.report.Marks;
import org.slabnote.report.Plan;
import org.slabnote.report.Ticks;

/** Draws the plan of the slab: passes, findings, cuts, and what could not be seen. */
final class PlanView extends Region {
  private static final double EDGE = 46;
  private static final double NAME = 10.5;
  private static final Color INK = Color.web(Marks.INK);
  private static final Color HALO = Color.rgb(255, 255, 255, 0.9);

  private final Canvas canvas = new Canvas();
  private final GraphicsContext pen = canvas.getGraphicsContext2D();
  private final Consumer<String> chosen;
  private @Nullable Plan plan;
  private Plan.Frame frame = new Plan.Frame(0, 0, 1, 1);
  private double scale = 1;
  private double left = EDGE;
  private double top = EDGE;
  private final List<Rectangle2D> names = new ArrayList<>();

  /** @param chosen gets the name of the pass that is clicked */
  PlanView(Consumer<String> chosen) {
    this.chosen = chosen;
    setId("plan");
    getStyleClass().add("plan");
    setAccessibleText("plan of the slab");
    setMinSize(200, 160);
    getChildren().add(canvas);
    setOnMouseClicked(event -> passAt(event.getX(), event.getY()));
  }

  void show(Plan shown) {
    plan = shown;
    setAccessibleText("plan of the slab with " + shown.drawn().size() + " findings and "
        + shown.cuts().size() + " proposed cuts");
    draw();
  }

  @Override
  protected void layoutChildren() {
    if (canvas.getWidth() != getWidth() || canvas.getHeight() != getHeight()) {
      canvas.setWidth(getWidth());
      canvas.setHeight(getHeight());
      draw();
    }
  }

  private double x(Point p) {
    return left + (p.x().value() - frame.x0()) * scale;
  }

  private double y(Point p) {
    return top + (p.y().value() - frame.y0()) * scale;
  }

  private void draw() {
    Plan shown = plan;
    pen.clearRect(0, 0, getWidth(), getHeight());
    if (shown == null || getWidth() < 3 * EDGE || getHeight() < 3 * EDGE) {
      return;
    }
    frame = shown.frame();
    scale = Math.min(
        (getWidth() - EDGE - 16) / frame.width(), (getHeight() - EDGE - 16) / frame.height());
    left = EDGE + Math.max(0, (getWidth() - EDGE - 16 - frame.width() * scale) / 2);
    top = EDGE;
    axes();
    pen.save();
    pen.beginPath();
    pen.rect(left, top, frame.width() * scale, frame.height() * scale);
    pen.clip();
    shown.visibility().ifPresent(v -> v.unseen().forEach(this::unseen));
    names.clear();
    passes(shown);
    shown.drawn().forEach(this::target);
    shown.cuts().forEach(cut -> keepFree(shown, cut));
    shown.drawn().forEach(this::targetName);
    for (Cut cut : shown.cuts()) {
      cut(shown, cut);
    }
    pen.restore();
  }

  private void axes() {
    double width = frame.width() * scale;
    double height = frame.height() * scale;
    pen.setFill(Color.web("#fdfcf9"));
    pen.fillRect(left, top, width, height);
    pen.setStroke(INK);
    pen.setLineDashes();
    pen.setLineWidth(1);
    pen.strokeRect(left - 0.5, top - 0.5, width + 1, height + 1);
    pen.setFont(Font.font("SansSerif", 11));
    pen.setFill(INK);
    pen.setTextAlign(TextAlignment.CENTER);
    pen.setTextBaseline(VPos.BOTTOM);
    for (double v : Ticks.between(frame.x0(), frame.x1(), (int) Math.max(2, width / 70))) {
      double at = Math.round(x(Point.of(v, 0))) + 0.5;
      pen.strokeLine(at, top - 5, at, top - 1);
      pen.fillText(Units.plain(v, 4), at, top - 7);
    }
    pen.fillText("x (m), to the right facing the scanned face", left + width / 2, top - 24);
    pen.setTextBaseline(VPos.CENTER);
    pen.setTextAlign(TextAlignment.RIGHT);
    for (double v : Ticks.between(frame.y0(), frame.y1(), (int) Math.max(2, height / 60))) {
      double at = Math.round(y(Point.of(0, v))) + 0.5;
      pen.strokeLine(left - 5, at, left - 1, at);
      pen.fillText(Units.plain(v, 4), left - 8, at);
    }
    pen.save();
    pen.translate(left - 38, top + height / 2);
    pen.rotate(-90);
    pen.setTextAlign(TextAlignment.CENTER);
    pen.fillText("y (m), down the view", 0, 0);
    pen.restore();
  }

  private void keepFree(Plan shown, Cut cut) {
    double r = cut.diameter().value() / 2 * scale + 2;
    double cx = x(cut.start());
    double cy = y(cut.start());
    names.add(new Rectangle2D(cx - r, cy - r, 2 * r, 2 * r));
    double wide = cutWords(shown, cut).length() * 7.4;
    names.add(new Rectangle2D(roomToTheRight(cx) ? cx + r : cx - r - wide, cy - r - 18, wide, 18));
  }

  private void unseen(Visibility.Unseen u) {
    // hatched where nothing at all was seen; what lies below a depth is told in words
    if (u.below().value() > 0.005) {
      return;
    }
    double x0 = Math.min(x(u.from()), x(u.to()));
    double y0 = Math.min(y(u.from()), y(u.to()));
    double width = Math.abs(x(u.to()) - x(u.from()));
    double height = Math.abs(y(u.to()) - y(u.from()));
    pen.save();
    pen.beginPath();
    pen.rect(x0, y0, width, height);
    pen.clip();
    pen.setStroke(Color.web(Marks.UNSEEN, 0.75));
    pen.setLineWidth(1.1);
    // one grid of lines for all stretches, so that neighbours join
    for (double c = Math.floor((x0 - y0 - height) / 7) * 7; c < x0 + width - y0; c += 7) {
      pen.strokeLine(c + y0, y0, c + y0 + height, y0 + height);
    }
    pen.restore();
  }

  private void passes(Plan shown) {
    Set<String> drawn = new HashSet<>();
    pen.setFont(Font.font("SansSerif", 9));
    for (SurveyRow row : shown.survey().rows()) {
      if (drawn.add(row.pass())) {
        pen.setStroke(Color.web(Marks.QUIET, 0.8));
        pen.setLineWidth(0.7);
        pen.setLineDashes(1.5, 3);
        pen.strokeLine(x(row.start()), y(row.start()), x(row.end()), y(row.end()));
        pen.setLineDashes();
        boolean upright =
            Math.abs(y(row.end()) - y(row.start())) > Math.abs(x(row.end()) - x(row.start()));
        pen.setFill(Color.web(Marks.QUIET));
        pen.setTextAlign(upright ? TextAlignment.CENTER : TextAlignment.RIGHT);
        pen.setTextBaseline(upright ? VPos.BOTTOM : VPos.CENTER);
        double x = x(row.start()) - (upright ? 0 : 4);
        double y = y(row.start()) - (upright ? 3 : 0);
        double wide = row.pass().length() * 6.0;
        Rectangle2D room = new Rectangle2D(x - (upright ? wide / 2 : wide), y - 9, wide, 9);
        boolean taken = names.stream().anyMatch(room::intersects);
        names.add(room);
        pen.fillText(
            row.pass(), x - (taken && !upright ? wide + 3 : 0), y - (taken && upright ? 9 : 0));
      }
    }
  }

  private void target(Target t) {
    Color colour = Color.web(Marks.colour(t));
    Point a = t.start();
    if (t.end().isPresent()) {
      Point b = t.end().get();
      double band = (t.diameter().value().value() + 2 * t.across().u95().value()) * scale;
      pen.setLineCap(StrokeLineCap.BUTT);
      pen.setStroke(colour.deriveColor(0, 1, 1, 0.18));
      pen.setLineWidth(Math.max(2, band));
      pen.strokeLine(x(a), y(a), x(b), y(b));
      pen.setStroke(colour);
      pen.setLineWidth(2);
      if (t.status() != Target.Status.PROBABLE) {
        pen.setLineDashes(7, 4);
      }
      pen.strokeLine(x(a), y(a), x(b), y(b));
      pen.setLineDashes();
    } else {
      pen.setStroke(colour);
      pen.setLineWidth(2);
      pen.strokeOval(x(a) - 4, y(a) - 4, 8, 8);
    }
  }

  /** Names a finding at an end of it, or along it where another name stands there already. */
  private void targetName(Target t) {
    String words =
        t.name() + " " + Marks.letter(t) + " " + Units.fixed(t.depth().value().inMillimetres(), 0);
    Color colour = Color.web(Marks.colour(t));
    Point a = t.start();
    if (t.end().isEmpty()) {
      free(words, x(a) + 8, y(a) - 7);
      name(words, x(a) + 8, y(a), TextAlignment.LEFT, VPos.CENTER, colour, NAME);
      return;
    }
    Point b = t.end().get();
    double half = words.length() * NAME * 0.31;
    for (double f : List.of(0.96, 0.04, 0.85, 0.15, 0.72, 0.28, 0.6, 0.4, 0.5)) {
      double x = x(a) + f * (x(b) - x(a));
      double y = y(a) + f * (y(b) - y(a));
      double inside = Math.max(left + half, Math.min(left + frame.width() * scale - half, x));
      if (free(words, inside - half, y - 7) || f == 0.5) {
        name(words, inside, y, TextAlignment.CENTER, VPos.CENTER, colour, NAME);
        return;
      }
    }
  }

  /** Takes the room for a name if no other has it. */
  private boolean free(String words, double x, double y) {
    Rectangle2D room = new Rectangle2D(x, y, words.length() * NAME * 0.62, 14);
    if (names.stream().anyMatch(room::intersects)) {
      return false;
    }
    names.add(room);
    return true;
  }

  private void name(
      String words, double x, double y, TextAlignment align, VPos base, Color colour, double size) {
    pen.setFont(Font.font("SansSerif", FontWeight.BOLD, size));
    pen.setTextAlign(align);
    pen.setTextBaseline(base);
    pen.setStroke(HALO);
    pen.setLineWidth(3);
    pen.strokeText(words, x, y);
    pen.setFill(colour);
    pen.fillText(words, x, y);
  }

  private void cut(Plan shown, Cut cut) {
    Color colour = shown.of(cut).map(c -> Color.web(Marks.colour(c.verdict()))).orElse(INK);
    double r = Math.max(3, cut.diameter().value() / 2 * scale);
    double cx = x(cut.start());
    double cy = y(cut.start());
    if (cut.kind() == Cut.Kind.SAW) {
      pen.setStroke(colour.deriveColor(0, 1, 1, 0.4));
      pen.setLineWidth(Math.max(2, 2 * r));
      pen.strokeLine(cx, cy, x(cut.end()), y(cut.end()));
    } else {
      pen.setFill(Color.rgb(255, 255, 255, 0.7));
      pen.fillOval(cx - r, cy - r, 2 * r, 2 * r);
      pen.setStroke(colour);
      pen.setLineWidth(2.5);
      pen.strokeOval(cx - r, cy - r, 2 * r, 2 * r);
      pen.setLineWidth(1);
      pen.strokeLine(cx - 4, cy, cx + 4, cy);
      pen.strokeLine(cx, cy - 4, cx, cy + 4);
    }
    boolean roomRight = roomToTheRight(cx);
    name(
        cutWords(shown, cut),
        roomRight ? cx + r + 4 : cx - r - 4,
        cy - r - 2,
        roomRight ? TextAlignment.LEFT : TextAlignment.RIGHT,
        VPos.BOTTOM,
        colour,
        12);
  }

  private boolean roomToTheRight(double x) {
    return x < left + frame.width() * scale * 0.6;
  }

  private static String cutWords(Plan shown, Cut cut) {
    return shown.of(cut).map(c -> cut.name() + ": " + c.verdict().words()).orElse(cut.name());
  }

  private void passAt(double x, double y) {
    Plan shown = plan;
    if (shown == null) {
      return;
    }
    String best = "";
    double least = 8;
    for (SurveyRow row : shown.survey().rows()) {
      double away = away(x, y, x(row.start()), y(row.start()), x(row.end()), y(row.end()));
      if (away < least) {
        least = away;
        best = row.pass();
      }
    }
    if (!best.isEmpty()) {
      chosen.accept(best);
    }
  }

  private static double away(double x, double y, double ax, double ay, double bx, double by) {
    double length = (bx - ax) * (bx - ax) + (by - ay) * (by - ay);
    double f = length == 0 ? 0 : ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / length;
    double g = Math.max(0, Math.min(1, f));
    return Math.hypot(x - ax - g * (bx - ax), y - ay - g * (by - ay));
  }
}
