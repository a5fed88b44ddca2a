package org.slabnote.desktop;

import java.util.List;
import javafx.geometry.VPos;
import javafx.scene.canvas.GraphicsContext;
import javafx.scene.paint.Color;
import javafx.scene.text.Font;
import javafx.scene.text.FontWeight;
import javafx.scene.text.TextAlignment;
import org.slabnote.api.Event;
import org.slabnote.api.EventState;
import org.slabnote.api.Pick;
import org.slabnote.api.quantity.Units;
import org.slabnote.report.Marks;
import org.slabnote.report.Radargram;
import org.slabnote.report.Ticks;

/** Axes, events and picks over a radargram: rings, crosses and names as in the report. */
record RadargramMarks(
    RadargramView view, GraphicsContext pen, Picture picture, List<NotebookModel.PickLine> picks) {
  static final Color PICK = Color.web("#0b57d0");
  private static final Color INK = Color.web(Marks.INK);
  private static final Color HALO = Color.rgb(255, 255, 255, 0.85);
  private static final Font PLAIN = Font.font("SansSerif", 11);
  private static final Font BOLD = Font.font("SansSerif", FontWeight.BOLD, 11);

  void draw(double width, double height) {
    double left = RadargramView.LEFT;
    double top = RadargramView.TOP;
    pen.setStroke(INK);
    pen.setLineWidth(1);
    pen.strokeRect(left - 0.5, top - 0.5, width + 1, height + 1);
    axes(left, top, width, height);
    pen.save();
    pen.beginPath();
    pen.rect(left, top, width, height);
    pen.clip();
    surface(left, width);
    picture.events().forEach(this::event);
    for (Pick pick : picture.picks()) {
      cross(pick.distance().value(), pick.time().value() - picture.surface());
    }
    if (picture.pickable()) {
      picks.forEach(pick -> cross(pick.distance(), pick.time() - picture.surface()));
    }
    pen.restore();
  }

  private void surface(double left, double width) {
    if (picture.surfaceKnown() && !picture.image().depth() && view.inPlot(left, view.y(0))) {
      pen.setStroke(Color.web(Marks.ALARM, 0.55));
      pen.setLineDashes(6, 4);
      pen.strokeLine(left, view.y(0), left + width, view.y(0));
      pen.setLineDashes();
    }
  }

  private void event(Event event) {
    double x = view.x(event.distance().value().value());
    double y = view.y(
        picture.image().depth()
            ? event.depth().value().value()
            : event.time().value().value());
    if (!view.inPlot(x, y)) {
      return;
    }
    if (event.state() == EventState.REJECTED) {
      saltire(x, y, HALO, 3.5);
      saltire(x, y, Color.web(Marks.QUIET), 1.4);
      return;
    }
    boolean open = event.state() == EventState.OPEN;
    Color colour = Color.web(open ? "#a35c00" : Marks.ALARM);
    pen.setStroke(HALO);
    pen.setLineWidth(4);
    pen.strokeOval(x - 5.5, y - 5.5, 11, 11);
    pen.setStroke(colour);
    pen.setLineWidth(1.7);
    pen.strokeOval(x - 5.5, y - 5.5, 11, 11);
    label(open ? "?" : event.reason(), x + 9, y, colour);
  }

  private void saltire(double x, double y, Color colour, double width) {
    pen.setStroke(colour);
    pen.setLineWidth(width);
    pen.strokeLine(x - 3.5, y - 3.5, x + 3.5, y + 3.5);
    pen.strokeLine(x - 3.5, y + 3.5, x + 3.5, y - 3.5);
  }

  private void label(String words, double x, double y, Color colour) {
    pen.setFont(BOLD);
    pen.setTextAlign(TextAlignment.LEFT);
    pen.setTextBaseline(VPos.CENTER);
    pen.setStroke(HALO);
    pen.setLineWidth(3);
    pen.strokeText(words, x, y);
    pen.setFill(colour);
    pen.fillText(words, x, y);
  }

  private void cross(double distance, double time) {
    double x = view.x(distance);
    double y = view.y(time);
    for (int i = 0; i < 2; i++) {
      pen.setStroke(i == 0 ? HALO : PICK);
      pen.setLineWidth(i == 0 ? 4 : 1.6);
      pen.strokeLine(x - 5, y, x + 5, y);
      pen.strokeLine(x, y - 5, x, y + 5);
    }
  }

  private void axes(double left, double top, double width, double height) {
    RadargramView.Window in = view.window();
    pen.setFont(PLAIN);
    pen.setFill(INK);
    pen.setStroke(INK);
    pen.setLineWidth(1);
    double bottom = top + height;
    pen.setTextAlign(TextAlignment.CENTER);
    pen.setTextBaseline(VPos.TOP);
    for (double d : Ticks.between(in.from(), in.to(), (int) Math.max(2, width / 90))) {
      double x = Math.round(view.x(d)) + 0.5;
      pen.strokeLine(x, bottom, x, bottom + 4);
      pen.fillText(Units.plain(d, 5), x, bottom + 7);
    }
    pen.fillText("distance along the pass (m)", left + width / 2, bottom + 24);
    pen.setTextBaseline(VPos.CENTER);
    pen.setTextAlign(TextAlignment.RIGHT);
    boolean depths = picture.image().depth();
    double scale = depths ? 1000 : 1;
    int count = (int) Math.max(2, height / 50);
    for (double v : Ticks.between(in.first() * scale, in.last() * scale, count)) {
      double y = Math.round(view.y(v / scale)) + 0.5;
      pen.strokeLine(left - 5, y, left - 1, y);
      pen.fillText(Units.plain(v, 5), left - 8, y);
    }
    String name = depths
        ? "depth (mm)"
        : picture.surfaceKnown() ? "time after the surface (ns)" : "time in the scan (ns)";
    turned(name, 12, top + height / 2);
    right(left + width, top, height, count);
  }

  private void right(double x, double top, double height, int count) {
    String name = "depth of a plane (mm)";
    if (picture.image().depth()) {
      return;
    }
    if (picture.velocity().isEmpty() || !picture.surfaceKnown()) {
      turned(
          picture.surfaceKnown()
              ? "no depth axis: velocity not known"
              : "no depth axis: time zero not known",
          x + 14,
          top + height / 2);
      return;
    }
    pen.setTextAlign(TextAlignment.LEFT);
    double deepest = picture.depth(view.window().last()).orElse(0.0) * 1000;
    double shallowest = picture.depth(view.window().first()).orElse(0.0) * 1000;
    double above = Double.NEGATIVE_INFINITY;
    for (double z : Ticks.between(shallowest, deepest, count)) {
      double at = view.y(
          Radargram.time(z / 1000, picture.separation(), picture.velocity().get()));
      if (at >= top && at <= top + height && at - above > 13) {
        double y = Math.round(at) + 0.5;
        pen.strokeLine(x + 1, y, x + 5, y);
        pen.fillText(Units.plain(z, 5), x + 8, y);
        above = at;
      }
    }
    turned(name, x + RadargramView.RIGHT - 12, top + height / 2);
  }

  private void turned(String words, double x, double y) {
    pen.save();
    pen.translate(x, y);
    pen.rotate(-90);
    pen.setTextAlign(TextAlignment.CENTER);
    pen.fillText(words, 0, 0);
    pen.restore();
  }
}
