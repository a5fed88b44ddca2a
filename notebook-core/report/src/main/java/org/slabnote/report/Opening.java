package org.slabnote.report;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.slabnote.api.Conclusion;
import org.slabnote.api.Cut;
import org.slabnote.api.JobSheet;
import org.slabnote.api.Targets;
import org.slabnote.api.quantity.Units;
import org.slabnote.engine.record.RunFacts;

/** The first page: the job, the question, and what is concluded of each cut. */
record Opening(
    RunFacts facts, String recordDigest, List<Conclusion> conclusions, Optional<Targets> targets) {

  void write(StringBuilder out) {
    JobSheet sheet = facts.job().sheet();
    out.append("<h1>")
        .append(Html.text(sheet.title()))
        .append("</h1>\n<p class=\"quiet\">Interpretation of radar scans of concrete. Record ")
        .append("<code>")
        .append(recordDigest, 0, Math.min(12, recordDigest.length()))
        .append("</code>.</p>\n");
    if (!sheet.question().isBlank()) {
      out.append("<h2>The question</h2>\n<p>")
          .append(Html.text(sheet.question()))
          .append("</p>\n");
    }
    out.append("<h2>Proposed cuts</h2>\n");
    if (facts.job().cuts().isEmpty()) {
      out.append("<p>No cut was proposed with this job.</p>\n");
    }
    for (Cut cut : facts.job().cuts()) {
      cut(out, cut);
    }
    for (Conclusion c : conclusions) {
      if (facts.job().cuts().stream().noneMatch(cut -> cut.name().equals(c.subject()))) {
        box(out, c.subject(), "", Optional.of(c));
      }
    }
    out.append("<div class=\"caution\"><p>")
        .append(Html.text(Cautions.FIRST))
        .append("</p></div>\n");
    sheet(out, sheet);
  }

  private void cut(StringBuilder out, Cut cut) {
    String size = switch (cut.kind()) {
      case CORE -> "core";
      case DRILL -> "drilled hole";
      case SAW -> "saw cut";
    };
    String what = size + ", " + Units.format(cut.diameter())
        + (cut.kind() == Cut.Kind.SAW ? " wide, " : " across, ")
        + Units.format(cut.depth()) + " deep, at x "
        + Units.plain(cut.start().x().value(), 6) + " m, y "
        + Units.plain(cut.start().y().value(), 6) + " m"
        + (cut.kind() == Cut.Kind.SAW
            ? " to x " + Units.plain(cut.end().x().value(), 6) + " m, y "
                + Units.plain(cut.end().y().value(), 6) + " m"
            : "")
        + (cut.room().value() > 0 ? "; room to move " + Units.format(cut.room()) : "");
    box(
        out,
        cut.name(),
        what,
        conclusions.stream().filter(c -> c.subject().equals(cut.name())).findFirst());
  }

  private static void box(
      StringBuilder out, String name, String what, Optional<Conclusion> conclusion) {
    String colour = conclusion.map(c -> Marks.colour(c.verdict())).orElse(Marks.QUIET);
    out.append("<div class=\"cut\" style=\"border-left-color:")
        .append(colour)
        .append("\"><b>")
        .append(Html.text(name))
        .append("</b><b class=\"verdict\" style=\"color:")
        .append(colour)
        .append("\">")
        .append(
            Html.text(conclusion.map(c -> c.verdict().words()).orElse("no conclusion was drawn")))
        .append("</b>");
    if (!what.isEmpty()) {
      out.append("<div class=\"quiet\">").append(Html.text(what)).append("</div>");
    }
    conclusion.ifPresent(c -> {
      out.append("<p>").append(Html.text(c.statement())).append("</p>");
      c.margin()
          .ifPresent(m -> out.append("<div class=\"quiet\">Margin to the required clearance: ")
              .append(Html.text(Html.millimetres(m)))
              .append(" (positive is farther than required; k = 2).</div>"));
    });
    out.append("</div>\n");
  }

  private static void sheet(StringBuilder out, JobSheet sheet) {
    out.append("<h2>The job</h2>\n<dl>\n");
    sheet.thickness().ifPresent(t -> Html.term(out, "stated thickness", Units.format(t)));
    for (Map.Entry<String, String> fact : sheet.facts().entrySet()) {
      Html.term(out, fact.getKey().replace('.', ' ').replace('_', ' '), fact.getValue());
    }
    sheet
        .required()
        .forEach((kind, length) -> Html.term(
            out,
            "required clearance, "
                + kind.name().toLowerCase(java.util.Locale.ROOT).replace('_', '-'),
            Units.format(length)));
    out.append("</dl>\n");
  }
}
