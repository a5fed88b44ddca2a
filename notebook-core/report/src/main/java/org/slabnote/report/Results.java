package org.slabnote.report;

import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.slabnote.api.EventState;
import org.slabnote.api.Events;
import org.slabnote.api.PairRatio;
import org.slabnote.api.Target;
import org.slabnote.api.TargetClass;
import org.slabnote.api.VelocityEstimate;
import org.slabnote.api.Visibility;
import org.slabnote.api.quantity.Units;
import org.slabnote.engine.record.RunFacts;

/** Findings, plan, velocity, and what could not be seen. */
record Results(
    RunFacts facts, Plan plan, Optional<VelocityEstimate> velocity, Optional<Events> ledger) {

  void write(StringBuilder out) {
    out.append("<h2>Plan</h2>\n<figure>")
        .append(new PlanFigure(plan).draw())
        .append(
            "<figcaption>Facing the scanned face. Lines: findings with name, letter (M metal, N non-metal, ? not classified) "
                + "and depth to the top in mm; the shaded band is the diameter and twice the expanded uncertainty across the line; dashed where "
                + "seen on one pass or two, or not resolved. Dotted: passes. Circles: proposed cuts. Hatched: not scanned. Nothing is drawn where nobody scanned. "
                + "This plan defines its own colours; they are not the colours of utility marking.</figcaption></figure>\n");
    findings(out);
    velocity.ifPresent(v -> velocity(out, v));
    unseen(out);
    ledger.ifPresent(l -> openEvents(out, l));
  }

  private void findings(StringBuilder out) {
    out.append("<h2>Findings</h2>\n");
    List<Target> list = plan.targets().map(t -> t.list()).orElse(List.of());
    if (list.isEmpty()) {
      out.append("<p>No finding is recorded. That is no statement that nothing is there.</p>\n");
      return;
    }
    List<Boolean> numeric = List.of(false, false, true, true, false, true, false, false);
    out.append(
        "<div class=\"wide\"><table><caption>Depths run from the scanned face to the top of the target; \u00b1 is the expanded "
            + "uncertainty (k = 2, about 95 %). Classes are probabilities, not certainties.</caption><thead>");
    Html.row(
        out,
        "th",
        List.of(
            "name",
            "likeliest",
            "depth, mm",
            "across, mm",
            "where (x, y), m",
            "pair ratio, dB",
            "status",
            "what else it could be"),
        numeric);
    out.append("</thead><tbody>\n");
    for (Target t : list) {
      Html.row(
          out,
          "td",
          List.of(
              "<b>" + Html.text(t.name()) + "</b>",
              Html.text(classes(t)),
              Html.text(Html.millimetres(t.depth()).replace(" mm", "")),
              "\u00b1 " + Html.upward(t.across().u95().inMillimetres()),
              where(t),
              Html.text(t.pairRatio().map(Results::ratio).orElse("")),
              Html.text(t.status().name().toLowerCase(Locale.ROOT).replace('_', ' ')),
              doubts(t)),
          numeric);
    }
    out.append("</tbody></table></div>\n");
  }

  private static String classes(Target t) {
    if (t.classes().isEmpty()) {
      return "not classified";
    }
    TargetClass best = t.likeliest().orElseThrow();
    return best.name().toLowerCase(Locale.ROOT).replace('_', '-') + " ("
        + Units.fixed(100 * t.classes().getOrDefault(best, 0.0), 0) + " %)";
  }

  private static String ratio(PairRatio p) {
    return Units.fixed(p.ratio().value().value(), 1) + " \u00b1 "
        + Units.fixed(p.ratio().u95().value(), 1);
  }

  /** What else it could be, and below it what limits the pair ratio. */
  private static String doubts(Target t) {
    String remark = t.pairRatio().map(PairRatio::remark).orElse("");
    return Html.text(t.alternatives())
        + (remark.isBlank()
            ? ""
            : "<div class=\"quiet\">pair ratio: " + Html.text(remark) + "</div>");
  }

  private static String where(Target t) {
    String from = place(t.start());
    return "<span class=\"nowrap\">" + from + "</span>"
        + t.end().map(e -> " to <span class=\"nowrap\">" + place(e) + "</span>").orElse("");
  }

  private static String place(org.slabnote.api.Point point) {
    return Units.fixed(point.x().value(), 3) + ", " + Units.fixed(point.y().value(), 3);
  }

  private static void velocity(StringBuilder out, VelocityEstimate v) {
    out.append("<h2>Velocity</h2>\n<p>")
        .append(Units.fixed(v.velocity().value().value(), 4))
        .append(" \u00b1 ")
        .append(Units.fixed(v.velocity().u95().value(), 4))
        .append(" m/ns (k = 2), relative permittivity ")
        .append(Units.fixed(v.permittivity().value().value(), 2))
        .append(" \u00b1 ")
        .append(Units.fixed(v.permittivity().u95().value(), 2))
        .append(", by ")
        .append(Html.text(v.method()))
        .append(". ")
        .append(Html.text(v.evidence()))
        .append("</p>\n");
    if (!v.velocity().budget().isEmpty()) {
      out.append("<details><summary>Its uncertainty by source</summary><table><thead>");
      Html.row(out, "th", List.of("source", "contribution, m/ns"), List.of(false, true));
      out.append("</thead><tbody>");
      for (Map.Entry<String, Double> e : v.velocity().budget().entrySet()) {
        Html.row(
            out,
            "td",
            List.of(Html.text(e.getKey()), Units.fixed(e.getValue(), 6)),
            List.of(false, true));
      }
      out.append("</tbody></table></details>\n");
    }
  }

  private void unseen(StringBuilder out) {
    out.append("<h2>What could not be seen</h2>\n");
    if (plan.visibility().isEmpty()) {
      out.append(
          "<p>The notebook does not say what could have been seen. Until it does, no finding here speaks of absence.</p>\n");
      return;
    }
    Visibility v = plan.visibility().get();
    if (!v.unseen().isEmpty()) {
      out.append("<ul>\n");
      for (Visibility.Unseen u : v.unseen()) {
        out.append("<li>x ")
            .append(Units.fixed(u.from().x().value(), 2))
            .append(" to ")
            .append(Units.fixed(u.to().x().value(), 2))
            .append(" m, y ")
            .append(Units.fixed(u.from().y().value(), 2))
            .append(" to ")
            .append(Units.fixed(u.to().y().value(), 2))
            .append(" m, below ")
            .append(Units.fixed(u.below().inMillimetres(), 0))
            .append(" mm: ")
            .append(Html.text(u.why()))
            .append("</li>\n");
      }
      out.append("</ul>\n");
    }
    List<Boolean> numeric = List.of(false, true, true, true, false);
    out.append("<details><summary>How far down each scan could see</summary><table><thead>");
    Html.row(
        out,
        "th",
        List.of("scan", "down to, mm", "smallest metal bar there, mm", "to each side, mm", "basis"),
        numeric);
    out.append("</thead><tbody>");
    for (Visibility.Sight s : v.sights()) {
      Html.row(
          out,
          "td",
          List.of(
              Html.text(s.pass() + " " + s.channel()),
              Units.fixed(s.reach().inMillimetres(), 0),
              Units.fixed(s.smallest().inMillimetres(), 0),
              Units.fixed(s.halfWidth().inMillimetres(), 0),
              Html.text(s.basis())),
          numeric);
    }
    out.append("</tbody></table></details>\n");
  }

  private static void openEvents(StringBuilder out, Events ledger) {
    long explained =
        ledger.list().stream().filter(e -> e.state() == EventState.EXPLAINED).count();
    long rejected =
        ledger.list().stream().filter(e -> e.state() == EventState.REJECTED).count();
    List<org.slabnote.api.Event> open =
        ledger.list().stream().filter(e -> e.state() == EventState.OPEN).toList();
    out.append("<h2>Event ledger</h2>\n<p>")
        .append(ledger.list().size())
        .append(" events above clutter: ")
        .append(explained)
        .append(" explained by a finding, ")
        .append(rejected)
        .append(" rejected with a reason, ")
        .append(open.size())
        .append(" open.</p>\n");
    if (open.isEmpty()) {
      return;
    }
    List<Boolean> numeric = List.of(false, false, true, true);
    out.append(
        "<table><caption>Open events: seen, and not explained. Each counts against any cut near it.</caption><thead>");
    Html.row(out, "th", List.of("event", "where", "depth, mm", "above clutter, dB"), numeric);
    out.append("</thead><tbody>");
    for (org.slabnote.api.Event e : open) {
      Html.row(
          out,
          "td",
          List.of(
              Html.text(e.name()),
              "(" + Units.fixed(e.place().x().value(), 3) + ", "
                  + Units.fixed(e.place().y().value(), 3) + ") m",
              Html.text(Html.millimetres(e.depth()).replace(" mm", "")),
              Units.fixed(e.signalToNoise().value(), 0)),
          numeric);
    }
    out.append("</tbody></table>\n");
  }
}
