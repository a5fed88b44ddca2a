package org.slabnote.report;

import org.slabnote.api.quantity.Units;

/** Builds an SVG drawing as text; numbers the same on every machine. */
final class Svg {
  private final StringBuilder out = new StringBuilder();
  private final double width;
  private final double height;

  Svg(double width, double height) {
    this.width = width;
    this.height = height;
  }

  static String number(double value) {
    return Units.fixed(value, 2).replaceAll("\\.?0+$", "");
  }

  static String escape(String text) {
    return text.replace("&", "&amp;")
        .replace("<", "&lt;")
        .replace(">", "&gt;")
        .replace("\"", "&quot;");
  }

  Svg raw(String element) {
    out.append(element).append('\n');
    return this;
  }

  Svg line(double x1, double y1, double x2, double y2, String style) {
    return raw("<line x1=\"" + number(x1) + "\" y1=\"" + number(y1) + "\" x2=\"" + number(x2)
        + "\" y2=\"" + number(y2) + "\" " + style + "/>");
  }

  Svg rect(double x, double y, double w, double h, String style) {
    return raw("<rect x=\"" + number(x) + "\" y=\"" + number(y) + "\" width=\""
        + number(Math.max(0, w)) + "\" height=\"" + number(Math.max(0, h)) + "\" " + style + "/>");
  }

  Svg circle(double x, double y, double r, String style) {
    return raw("<circle cx=\"" + number(x) + "\" cy=\"" + number(y) + "\" r=\"" + number(r) + "\" "
        + style + "/>");
  }

  Svg text(double x, double y, String anchor, String style, String text) {
    return raw("<text x=\"" + number(x) + "\" y=\"" + number(y) + "\" text-anchor=\"" + anchor
        + "\" " + style + ">" + escape(text) + "</text>");
  }

  Svg image(double x, double y, double w, double h, String dataUri) {
    return raw("<image x=\"" + number(x) + "\" y=\"" + number(y) + "\" width=\"" + number(w)
        + "\" height=\"" + number(h) + "\" preserveAspectRatio=\"none\" href=\"" + dataUri
        + "\"/>");
  }

  String done(String label) {
    return "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 " + number(width) + " "
        + number(height) + "\" role=\"img\" aria-label=\"" + escape(label)
        + "\" font-family=\"sans-serif\">\n" + out + "</svg>\n";
  }
}
