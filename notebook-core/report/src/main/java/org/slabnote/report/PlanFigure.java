package org.slabnote.report;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.slabnote.api.Cut;
import org.slabnote.api.Point;
import org.slabnote.api.SurveyRow;
import org.slabnote.api.Target;
import org.slabnote.api.Visibility;
import org.slabnote.api.quantity.Units;

/** Draws the plan of the slab. */
final class PlanFigure {
  private static final double WIDTH = 760;
  private static final double EDGE = 46;
  /** Room on the right and below for the names of the findings. */
  private static final double ROOM = 92;
  /** Least distance between two names, one line of text. */
  private static final double LINE = 11;

  private final Plan plan;
  private final Plan.Frame frame;
  private final double scale;
  private final double height;
  private final Svg svg;
  private final List<Label> below = new ArrayList<>();
  private final List<Label> beside = new ArrayList<>();

  /** A name that stands outside the frame, and the end of the line it belongs to. */
  private record Label(double x, double y, String text, String colour) {}

  PlanFigure(Plan plan) {
    this.plan = plan;
    frame = plan.frame();
    double wide = (WIDTH - EDGE - ROOM) / frame.width();
    double high = 900 / frame.height();
    scale = Math.min(wide, high);
    height = frame.height() * scale + EDGE + ROOM;
    svg = new Svg(WIDTH, height);
  }

  String draw() {
    svg.raw(
        "<defs><pattern id=\"unseen\" width=\"7\" height=\"7\" patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(45)\">"
            + "<line x1=\"0\" y1=\"0\" x2=\"0\" y2=\"7\" stroke=\"" + Marks.UNSEEN
            + "\" stroke-width=\"2\"/></pattern></defs>");
    axes();
    plan.visibility().ifPresent(v -> v.unseen().forEach(this::unseen));
    Set<String> drawn = new HashSet<>();
    for (SurveyRow row : plan.survey().rows()) {
      if (drawn.add(row.pass())) {
        svg.line(
            x(row.start()),
            y(row.start()),
            x(row.end()),
            y(row.end()),
            "stroke=\"" + Marks.QUIET + "\" stroke-width=\"0.5\" stroke-dasharray=\"1 3\"");
        svg.text(
            x(row.start()) - 3,
            y(row.start()) - 2,
            "end",
            "font-size=\"7\" fill=\"" + Marks.QUIET + "\"",
            row.pass());
      }
    }
    for (Target t : plan.drawn()) {
      target(t);
    }
    names();
    for (Cut cut : plan.cuts()) {
      cut(cut);
    }
    return svg.done("plan of the slab with passes, findings, cuts and what could not be seen");
  }

  private double x(Point p) {
    return EDGE + (p.x().value() - frame.x0()) * scale;
  }

  private double y(Point p) {
    return EDGE + (p.y().value() - frame.y0()) * scale;
  }

  private void unseen(Visibility.Unseen u) {
    double x0 = Math.max(EDGE, Math.min(x(u.from()), x(u.to())));
    double y0 = Math.max(EDGE, Math.min(y(u.from()), y(u.to())));
    double x1 = Math.min(EDGE + frame.width() * scale, Math.max(x(u.from()), x(u.to())));
    double y1 = Math.min(EDGE + frame.height() * scale, Math.max(y(u.from()), y(u.to())));
    // hatched where nothing at all was seen; what lies below a depth is told in the table
    if (u.below().value() <= 0.005) {
      svg.rect(x0, y0, x1 - x0, y1 - y0, "fill=\"url(#unseen)\" stroke=\"none\"");
    }
  }

  private void target(Target t) {
    String colour = Marks.colour(t);
    String halo =
        "font-size=\"10\" font-weight=\"600\" paint-order=\"stroke\" stroke=\"#ffffff\" stroke-width=\"3\" fill=\""
            + colour + "\"";
    String dash = t.status() == Target.Status.PROBABLE ? "" : " stroke-dasharray=\"7 4\"";
    String label = t.name() + " " + Marks.letter(t) + " "
        + Units.fixed(t.depth().value().inMillimetres(), 0) + " mm";
    Point a = t.start();
    if (t.end().isPresent()) {
      Point b = t.end().get();
      svg.line(
          x(a),
          y(a),
          x(b),
          y(b),
          "stroke=\"" + colour
              + "\" stroke-opacity=\"0.18\" stroke-linecap=\"round\" stroke-width=\""
              + Svg.number(Math.max(
                  2, (t.diameter().value().value() + 2 * t.across().u95().value()) * scale))
              + "\"");
      svg.line(x(a), y(a), x(b), y(b), "stroke=\"" + colour + "\" stroke-width=\"2\"" + dash);
      boolean upright = Math.abs(y(b) - y(a)) > Math.abs(x(b) - x(a));
      Point end = upright ? (y(a) > y(b) ? a : b) : (x(a) > x(b) ? a : b);
      (upright ? below : beside).add(new Label(x(end), y(end), label, colour));
    } else {
      svg.circle(x(a), y(a), 4, "fill=\"none\" stroke=\"" + colour + "\" stroke-width=\"2\"");
      svg.text(x(a) + 7, y(a) + 4, "start", halo, label);
    }
  }

  /** Names of the lines: right of the frame and below it, in order, never over one another. */
  private void names() {
    double right = EDGE + frame.width() * scale + 14;
    double bottom = EDGE + frame.height() * scale + 14;
    double last = Double.NEGATIVE_INFINITY;
    beside.sort(Comparator.comparingDouble(Label::y).thenComparing(Label::text));
    for (Label l : beside) {
      last = Math.max(l.y(), last + LINE);
      leader(l, right - 2, last);
      svg.text(right, last + 3.5, "start", name(l), l.text());
    }
    last = Double.NEGATIVE_INFINITY;
    below.sort(Comparator.comparingDouble(Label::x).thenComparing(Label::text));
    for (Label l : below) {
      last = Math.max(l.x(), last + LINE);
      leader(l, last, bottom - 2);
      svg.raw("<text transform=\"translate(" + Svg.number(last + 3.5) + " " + Svg.number(bottom)
          + ") rotate(-90)\" text-anchor=\"end\" " + name(l) + ">" + Svg.escape(l.text())
          + "</text>");
    }
  }

  private void leader(Label l, double x, double y) {
    svg.line(
        l.x(),
        l.y(),
        x,
        y,
        "stroke=\"" + l.colour() + "\" stroke-width=\"0.5\" stroke-opacity=\"0.6\"");
  }

  private static String name(Label l) {
    return "font-size=\"10\" font-weight=\"600\" fill=\"" + l.colour() + "\"";
  }

  private void cut(Cut cut) {
    String colour = plan.of(cut).map(c -> Marks.colour(c.verdict())).orElse(Marks.INK);
    double r = Math.max(3, cut.diameter().value() / 2 * scale);
    if (cut.kind() == Cut.Kind.SAW) {
      svg.line(
          x(cut.start()),
          y(cut.start()),
          x(cut.end()),
          y(cut.end()),
          "stroke=\"" + colour + "\" stroke-width=\"" + Svg.number(Math.max(2, 2 * r))
              + "\" stroke-opacity=\"0.4\"");
    } else {
      svg.circle(
          x(cut.start()),
          y(cut.start()),
          r,
          "fill=\"#ffffff\" fill-opacity=\"0.7\" stroke=\"" + colour + "\" stroke-width=\"2.5\"");
      svg.line(
          x(cut.start()) - 4,
          y(cut.start()),
          x(cut.start()) + 4,
          y(cut.start()),
          "stroke=\"" + colour + "\"");
      svg.line(
          x(cut.start()),
          y(cut.start()) - 4,
          x(cut.start()),
          y(cut.start()) + 4,
          "stroke=\"" + colour + "\"");
    }
    String words =
        plan.of(cut).map(c -> cut.name() + ": " + c.verdict().words()).orElse(cut.name());
    String style =
        "font-size=\"11\" font-weight=\"700\" paint-order=\"stroke\" stroke=\"#ffffff\" stroke-width=\"4\" fill=\""
            + colour + "\"";
    boolean left = x(cut.start()) > EDGE + 0.7 * frame.width() * scale;
    double at = x(cut.start()) + (left ? -r - 4 : r + 4);
    svg.text(at, y(cut.start()) - r - 2, left ? "end" : "start", style, words);
  }

  private void axes() {
    String style = "font-size=\"10\" fill=\"" + Marks.INK + "\"";
    double right = EDGE + frame.width() * scale;
    double bottom = EDGE + frame.height() * scale;
    svg.rect(
        EDGE,
        EDGE,
        frame.width() * scale,
        frame.height() * scale,
        "fill=\"#fbfaf7\" stroke=\"" + Marks.INK + "\" stroke-width=\"0.8\"");
    for (double v : Ticks.between(frame.x0(), frame.x1(), 8)) {
      double at = x(Point.of(v, 0));
      svg.line(at, EDGE - 4, at, EDGE, "stroke=\"" + Marks.INK + "\"");
      svg.text(at, EDGE - 8, "middle", style, Units.plain(v, 4));
    }
    for (double v : Ticks.between(frame.y0(), frame.y1(), 8)) {
      double at = y(Point.of(0, v));
      svg.line(EDGE - 4, at, EDGE, at, "stroke=\"" + Marks.INK + "\"");
      svg.text(EDGE - 7, at + 4, "end", style, Units.plain(v, 4));
    }
    svg.text(
        (EDGE + right) / 2, 14, "middle", style, "x (m), to the right facing the scanned face");
    svg.raw("<text transform=\"translate(12 " + Svg.number((EDGE + bottom) / 2)
        + ") rotate(-90)\" text-anchor=\"middle\" " + style + ">y (m), down the view</text>");
  }
}
