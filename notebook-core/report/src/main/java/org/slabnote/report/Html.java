package org.slabnote.report;

import java.util.List;
import org.slabnote.api.Table;
import org.slabnote.api.quantity.Length;
import org.slabnote.api.quantity.Measured;
import org.slabnote.api.quantity.Units;

/** Small pieces of HTML. */
final class Html {
  private Html() {}

  static String text(String plain) {
    return Svg.escape(plain);
  }

  /** Returns a length with its expanded uncertainty, in millimetres. */
  static String millimetres(Measured<Length> length) {
    return Units.fixed(length.value().inMillimetres(), 0) + " \u00b1 "
        + upward(length.u95().inMillimetres()) + " mm";
  }

  /** Returns an uncertainty in whole units, rounded up: it is never told smaller than it is. */
  static String upward(double value) {
    return Units.fixed(Math.ceil(value - 1e-9), 0);
  }

  static void row(StringBuilder out, String tag, List<String> cells, List<Boolean> numeric) {
    out.append("<tr>");
    for (int i = 0; i < cells.size(); i++) {
      out.append('<')
          .append(tag)
          .append(numeric.get(i) ? " class=\"n\"" : "")
          .append('>')
          .append(cells.get(i))
          .append("</")
          .append(tag)
          .append('>');
    }
    out.append("</tr>\n");
  }

  /** Writes a table as it was told, column names and all. */
  static void table(StringBuilder out, String caption, Table table) {
    List<Boolean> numeric =
        table.columns().stream().map(c -> c instanceof Table.Numbers).toList();
    out.append("<div class=\"wide\"><table>\n<caption>")
        .append(text(caption))
        .append("</caption>\n<thead>");
    row(out, "th", table.columns().stream().map(c -> text(c.name())).toList(), numeric);
    out.append("</thead>\n<tbody>\n");
    for (int i = 0; i < table.rows(); i++) {
      int at = i;
      row(out, "td", table.columns().stream().map(c -> text(c.text(at))).toList(), numeric);
    }
    out.append("</tbody></table></div>\n");
  }

  static void term(StringBuilder out, String term, String words) {
    if (!words.isBlank()) {
      out.append("<dt>")
          .append(text(term))
          .append("</dt><dd>")
          .append(text(words))
          .append("</dd>\n");
    }
  }
}
