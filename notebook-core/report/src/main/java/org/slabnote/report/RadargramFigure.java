package org.slabnote.report;

import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.Base64;
import java.util.List;
import java.util.Optional;
import javax.imageio.ImageIO;
import org.slabnote.api.Event;
import org.slabnote.api.EventState;
import org.slabnote.api.Pick;
import org.slabnote.api.VelocityEstimate;
import org.slabnote.api.quantity.Units;

/**
 * Draws a radargram with its axes and what was picked in it.
 *
 * <p>Left axis: time after the surface; right axis: depth of a plane at that time, where a velocity is
 * given. An explained event is a ring with its finding's name, a rejected one a cross, an open one a
 * ring with a question mark.
 */
final class RadargramFigure {
  private static final double WIDTH = 760;
  private static final double HEIGHT = 380;
  private static final double LEFT = 52;
  private static final double RIGHT = 62;
  private static final double TOP = 16;
  private static final double BOTTOM = 40;

  private final Radargram picture;
  private final double separation;
  private final Optional<VelocityEstimate> velocity;
  private final Svg svg = new Svg(WIDTH, HEIGHT);

  RadargramFigure(Radargram picture, double separation, Optional<VelocityEstimate> velocity) {
    this.picture = picture;
    this.separation = separation;
    this.velocity = velocity;
  }

  /** Returns the drawing; picks are told by distance and time after the surface. */
  String draw(String label, List<Event> events, List<Pick> picks) {
    svg.image(LEFT, TOP, WIDTH - LEFT - RIGHT, HEIGHT - TOP - BOTTOM, png());
    svg.rect(
        LEFT,
        TOP,
        WIDTH - LEFT - RIGHT,
        HEIGHT - TOP - BOTTOM,
        "fill=\"none\" stroke=\"" + Marks.INK + "\" stroke-width=\"1\"");
    axes();
    for (Event e : events) {
      mark(e);
    }
    for (Pick p : picks) {
      double x = x(p.distance().value());
      double y = y(p.time().value());
      svg.line(x - 4, y, x + 4, y, pen("#0b57d0", 1.4))
          .line(x, y - 4, x, y + 4, pen("#0b57d0", 1.4));
    }
    return svg.done(label);
  }

  private static String pen(String colour, double width) {
    return "stroke=\"" + colour + "\" stroke-width=\"" + Svg.number(width) + "\"";
  }

  private double x(double distance) {
    return LEFT + (WIDTH - LEFT - RIGHT) * distance / picture.length();
  }

  private double y(double value) {
    double span = Math.max(1e-9, picture.last() - picture.first());
    return TOP + (HEIGHT - TOP - BOTTOM) * (value - picture.first()) / span;
  }

  private boolean inside(double x, double y) {
    return x >= LEFT && x <= WIDTH - RIGHT && y >= TOP && y <= HEIGHT - BOTTOM;
  }

  private void mark(Event e) {
    double x = x(e.distance().value().value());
    double y = y(picture.depth() ? e.depth().value().value() : e.time().value().value());
    if (!inside(x, y)) {
      return;
    }
    String halo = "fill=\"none\" stroke=\"#ffffff\" stroke-width=\"4\" stroke-opacity=\"0.75\"";
    String small =
        "font-size=\"11\" font-weight=\"600\" paint-order=\"stroke\" stroke=\"#ffffff\" stroke-width=\"3\" fill=\"";
    if (e.state() == EventState.REJECTED) {
      svg.line(x - 3, y - 3, x + 3, y + 3, pen(Marks.QUIET, 1.2))
          .line(x - 3, y + 3, x + 3, y - 3, pen(Marks.QUIET, 1.2));
    } else {
      String colour = e.state() == EventState.OPEN ? "#a35c00" : Marks.ALARM;
      svg.circle(x, y, 5, halo).circle(x, y, 5, "fill=\"none\" " + pen(colour, 1.6));
      String name = e.state() == EventState.OPEN ? "?" : e.reason();
      svg.text(x + 8, y + 4, "start", small + colour + "\"", name);
    }
  }

  private void axes() {
    String style = "font-size=\"11\" fill=\"" + Marks.INK + "\"";
    double bottom = HEIGHT - BOTTOM;
    for (double d : Ticks.between(0, picture.length(), 8)) {
      svg.line(x(d), bottom, x(d), bottom + 4, pen(Marks.INK, 1));
      svg.text(x(d), bottom + 16, "middle", style, Units.plain(d, 4));
    }
    svg.text(
        (LEFT + WIDTH - RIGHT) / 2, HEIGHT - 6, "middle", style, "distance along the pass (m)");
    for (double t : Ticks.between(picture.first(), picture.last(), 8)) {
      svg.line(LEFT - 4, y(t), LEFT, y(t), pen(Marks.INK, 1));
      svg.text(LEFT - 7, y(t) + 4, "end", style, Units.plain(t, 4));
    }
    String left = picture.depth() ? "depth (m)" : "time after the surface (ns)";
    turned(12, left, style);
    if (!picture.depth() && velocity.isPresent()) {
      depthAxis(style);
    }
  }

  private void depthAxis(String style) {
    VelocityEstimate v = velocity.orElseThrow();
    double deepest = picture.last() * v.velocity().value().value() / 2;
    double right = WIDTH - RIGHT;
    double above = Double.NEGATIVE_INFINITY;
    for (double z : Ticks.between(0, deepest, 7)) {
      double at = y(Radargram.time(z, separation, v));
      if (at >= TOP && at <= HEIGHT - BOTTOM && at - above > 12) {
        svg.line(right, at, right + 4, at, pen(Marks.INK, 1));
        svg.text(right + 7, at + 4, "start", style, Units.plain(z * 1000, 4));
        above = at;
      }
    }
    turned(WIDTH - 8, "depth (mm)", style);
  }

  private void turned(double x, String text, String style) {
    double y = (TOP + HEIGHT - BOTTOM) / 2;
    svg.raw("<text transform=\"translate(" + Svg.number(x) + " " + Svg.number(y)
        + ") rotate(-90)\" text-anchor=\"middle\" " + style + ">" + Svg.escape(text) + "</text>");
  }

  private String png() {
    BufferedImage image =
        new BufferedImage(picture.columns(), picture.rows(), BufferedImage.TYPE_BYTE_GRAY);
    for (int i = 0; i < picture.columns(); i++) {
      for (int j = 0; j < picture.rows(); j++) {
        image.getRaster().setSample(i, j, 0, picture.grey(i, j));
      }
    }
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    try {
      ImageIO.write(image, "png", bytes);
    } catch (IOException e) {
      throw new UncheckedIOException("writing a picture to memory", e);
    }
    return "data:image/png;base64," + Base64.getEncoder().encodeToString(bytes.toByteArray());
  }
}
