package org.slabnote.report;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.commonmark.ext.gfm.tables.TablesExtension;
import org.commonmark.parser.Parser;
import org.commonmark.renderer.html.HtmlRenderer;
import org.slabnote.api.Event;
import org.slabnote.api.Events;
import org.slabnote.api.Pick;
import org.slabnote.api.Picks;
import org.slabnote.api.Scan;
import org.slabnote.api.Section;
import org.slabnote.api.Table;
import org.slabnote.api.VelocityEstimate;
import org.slabnote.api.quantity.TimeSpan;
import org.slabnote.engine.document.Block;
import org.slabnote.engine.document.Document;
import org.slabnote.engine.record.Demand;
import org.slabnote.engine.record.RunFacts;
import org.slabnote.engine.record.StepFact;

/** How it was found: figures, the notebook itself, the steps, the tables. */
record Evidence(RunFacts facts, Optional<VelocityEstimate> velocity, Optional<Events> ledger) {

  void write(StringBuilder out) {
    figures(out);
    tables(out);
    notebook(out);
    steps(out);
  }

  private void figures(StringBuilder out) {
    StringBuilder all = new StringBuilder();
    for (Demand d : facts.demands()) {
      Object value = facts.values().get(d.address());
      if (d.kind() != Demand.Kind.SHOW) {
        continue;
      }
      if (value instanceof Scan scan) {
        figure(
            all,
            d,
            Radargram.of(scan),
            scan.pass(),
            scan.channel(),
            scan.antenna().separation().value(),
            scan.surface().map(s -> s.value()).orElse(new TimeSpan(0)));
      } else if (value instanceof Section section) {
        figure(
            all, d, Radargram.of(section), section.pass(), section.channel(), 0, new TimeSpan(0));
      }
    }
    if (!all.isEmpty()) {
      out.append(
              "<h2>Figures</h2>\n<p class=\"quiet\">Ring with a name: event explained by that finding. Cross: event rejected with a reason. "
                  + "Ring with a question mark: open event. Plus: pick by hand. Grey is compressed for viewing (square root of the amplitude, clipped at the 99th percentile); "
                  + "no figure is read from it. Depth axis: a plane at the velocity above.</p>\n")
          .append(all);
    }
  }

  private void figure(
      StringBuilder out,
      Demand d,
      Radargram picture,
      String pass,
      String channel,
      double separation,
      TimeSpan surface) {
    List<Event> events = new ArrayList<>();
    List<Pick> picks = new ArrayList<>();
    for (String over : d.over()) {
      Object value = facts.values().get(over);
      if (value instanceof Events list) {
        list.list().stream()
            .filter(e -> e.pass().equals(pass))
            .map(this::judged)
            .forEach(events::add);
      } else if (value instanceof Picks list) {
        list.on(pass)
            .list()
            .forEach(p -> picks.add(new Pick(p.pass(), p.distance(), p.time().minus(surface))));
      }
    }
    String label = "pass " + pass + ", " + channel;
    out.append("<figure>")
        .append(new RadargramFigure(picture, separation, velocity).draw(label, events, picks))
        .append("<figcaption>")
        .append(Html.text("Pass " + pass + ", channel " + channel + ". Step " + d.address() + ": "
            + treatment(d.address())))
        .append("</figcaption></figure>\n");
  }

  /** Returns the event as the ledger has it. */
  private Event judged(Event event) {
    return ledger
        .flatMap(
            l -> l.list().stream().filter(e -> e.name().equals(event.name())).findFirst())
        .orElse(event);
  }

  private String treatment(String address) {
    Object value = facts.values().get(address);
    if (value instanceof Scan scan) {
      List<String> done = scan.history().stream().map(Object::toString).toList();
      return done.isEmpty() ? "as recorded" : String.join("; ", done);
    }
    return value instanceof Section s ? s.meaning() : "";
  }

  private void tables(StringBuilder out) {
    Map<String, Table> named = new LinkedHashMap<>();
    for (Demand d : facts.demands()) {
      if (d.kind() == Demand.Kind.TABLE && facts.values().get(d.address()) instanceof Table t) {
        named.put(d.name(), t);
      }
    }
    if (!named.isEmpty()) {
      out.append("<h2>Tables</h2>\n");
      named.forEach((name, table) -> {
        out.append("<details><summary>")
            .append(Html.text(name))
            .append(" (")
            .append(table.rows())
            .append(" rows)</summary>\n");
        Html.table(out, "table " + name, table);
        out.append("</details>\n");
      });
    }
  }

  private void notebook(StringBuilder out) {
    out.append("<h2>The interpretation as written</h2>\n");
    List<org.commonmark.Extension> extensions = List.of(TablesExtension.create());
    Parser parser = Parser.builder().extensions(extensions).build();
    HtmlRenderer renderer = HtmlRenderer.builder()
        .extensions(extensions)
        .escapeHtml(true)
        .sanitizeUrls(true)
        .build();
    Document document = facts.job().notebook();
    for (Block block : document.blocks()) {
      if (block instanceof Block.Prose prose) {
        String text =
            document.text().substring(prose.span().start(), prose.span().end());
        out.append(renderer.render(parser.parse(text)).replaceAll("<(/?)h[12]>", "<$1h3>"));
      } else if (block instanceof Block.Cell cell) {
        code(out, "cell", cell);
      } else if (block instanceof Block.Data data) {
        code(out, "data", data);
      }
    }
  }

  private static void code(StringBuilder out, String kind, Block.Named block) {
    out.append("<details><summary>")
        .append(kind)
        .append(" <code>")
        .append(Html.text(block.name()))
        .append("</code></summary><pre>")
        .append(Html.text(block.source()))
        .append("</pre></details>\n");
  }

  private void steps(StringBuilder out) {
    Map<String, Set<String>> over = new LinkedHashMap<>();
    Map<String, StepFact> first = new LinkedHashMap<>();
    for (StepFact s : facts.steps()) {
      String key = s.group() + " " + s.op() + " " + s.params();
      first.putIfAbsent(key, s);
      over.computeIfAbsent(key, k -> new LinkedHashSet<>()).add(s.pass());
    }
    out.append("<h2>Steps</h2>\n<details><summary>")
        .append(facts.steps().size())
        .append(" steps, with their parameters</summary><table><thead>");
    Html.row(
        out,
        "th",
        List.of("step", "operation", "parameters", "over"),
        List.of(false, false, false, false));
    out.append("</thead><tbody>");
    first.forEach((key, s) -> Html.row(
        out,
        "td",
        List.of(
            "<code>" + Html.text(s.group()) + "</code>",
            "<code>" + Html.text(s.op()) + "</code>",
            Html.text(shortened(s.params().toString())),
            Html.text(shortened(String.join(" ", over.get(key))))),
        List.of(false, false, false, false)));
    out.append("</tbody></table></details>\n");
  }

  private static String shortened(String text) {
    String plain = text.equals("{}") ? "" : text.replaceAll("^\\{|\\}$", "");
    return plain.length() <= 240 ? plain : plain.substring(0, 237) + "...";
  }
}
