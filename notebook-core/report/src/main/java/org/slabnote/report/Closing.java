package org.slabnote.report;

import org.slabnote.engine.record.RunFacts;

/** Cautions, what the report was made from, and its end. */
final class Closing {
  private Closing() {}

  static void write(StringBuilder out, RunFacts facts, String record) {
    out.append("<h2>Limits and cautions</h2>\n<div class=\"caution\"><ul>\n");
    for (String caution : Cautions.all()) {
      out.append("<li>").append(Html.text(caution)).append("</li>\n");
    }
    out.append(
            "</ul></div>\n<h2>Made from</h2>\n<p>Every figure above was computed from the scans by the notebook printed above. "
                + "A second analyst can compute it again from the job folder with <code>slabnote recheck</code>. Record SHA-256: <code>")
        .append(Html.text(record))
        .append("</code>.</p>\n<details><summary>Scans and plugins</summary><table><thead>");
    Html.row(out, "th", java.util.List.of("file", "SHA-256"), java.util.List.of(false, false));
    out.append("</thead><tbody>");
    facts
        .job()
        .scans()
        .values()
        .forEach(scan -> Html.row(
            out,
            "td",
            java.util.List.of(Html.text(scan.name()), "<code>" + scan.sha256() + "</code>"),
            java.util.List.of(false, false)));
    facts
        .plugins()
        .forEach(p -> Html.row(
            out,
            "td",
            java.util.List.of(
                Html.text("plugin " + p.id() + " " + p.version()),
                "<code>" + Html.text(p.sha256()) + "</code>"),
            java.util.List.of(false, false)));
    out.append("</tbody></table></details>\n");
    out.append(
        "<h2>Signed</h2>\n<dl><dt>interpreted by</dt><dd>&nbsp;</dd><dt>reviewed by</dt><dd>&nbsp;</dd><dt>date</dt><dd>&nbsp;</dd></dl>\n");
    out.append("<p class=\"end\">End of report. It relates only to the scans listed above.</p>\n");
  }
}
