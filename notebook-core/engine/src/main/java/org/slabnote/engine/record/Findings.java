package org.slabnote.engine.record;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.ArrayList;
import java.util.List;
import java.util.TreeMap;
import org.slabnote.api.Conclusion;
import org.slabnote.api.Event;
import org.slabnote.api.EventState;
import org.slabnote.api.Events;
import org.slabnote.api.PairRatio;
import org.slabnote.api.Point;
import org.slabnote.api.Table;
import org.slabnote.api.Target;
import org.slabnote.api.VelocityEstimate;
import org.slabnote.api.Visibility;

/** Words findings, events, what was seen, tables and conclusions as lines of the record. */
final class Findings {
  private Findings() {}

  static ObjectNode target(Target target) {
    ObjectNode node = Json.object();
    node.put("finding", target.name());
    place(node, "", target.start());
    target.end().ifPresent(end -> place(node, "2", end));
    node.set("depth", Json.measured(target.depth()));
    if (!target.endDepths().isEmpty()) {
      ArrayNode depths = node.putArray("end_depths_m");
      target.endDepths().forEach(depth -> depths.add(Json.number(depth.value())));
    }
    node.set("across", Json.measured(target.across()));
    node.put("reference", target.reference().name());
    node.set("diameter", Json.measured(target.diameter()));
    target.strike().ifPresent(strike -> node.set("strike", Json.quantity(strike)));
    target.pairRatio().ifPresent(ratio -> node.set("pair_ratio", pairRatio(ratio)));
    if (!target.classes().isEmpty()) {
      ObjectNode classes = node.putObject("classes");
      target.classes().forEach((type, p) -> classes.set(type.name(), Json.number(p)));
    }
    node.put("status", target.status().name());
    node.put("alternatives", target.alternatives());
    ArrayNode evidence = node.putArray("evidence");
    target.evidence().forEach(evidence::add);
    return node;
  }

  private static ObjectNode pairRatio(PairRatio ratio) {
    ObjectNode node = Json.object();
    Components.of(ratio)
        .forEach((name, part) -> node.set(
            name,
            part instanceof org.slabnote.api.quantity.Measured<?> m
                ? Json.measured(m)
                : part instanceof org.slabnote.api.quantity.Quantity<?> q
                    ? Json.quantity(q)
                    : part instanceof Double d ? Json.number(d) : Json.stated(part)));
    return node;
  }

  private static void place(ObjectNode node, String end, Point point) {
    node.set("x" + end + "_m", Json.number(point.x().value()));
    node.set("y" + end + "_m", Json.number(point.y().value()));
  }

  /** The counts of the ledger, then each open event: those that nothing explains. */
  static List<ObjectNode> events(Events events) {
    List<ObjectNode> lines = new ArrayList<>();
    TreeMap<String, Integer> byState = new TreeMap<>();
    TreeMap<String, Integer> byReason = new TreeMap<>();
    for (Event event : events.list()) {
      byState.merge(event.state().name(), 1, Integer::sum);
      if (event.state() == EventState.REJECTED) {
        byReason.merge(event.reason(), 1, Integer::sum);
      }
    }
    ObjectNode summary = Json.object();
    summary.put("events", events.list().size());
    ObjectNode states = summary.putObject("states");
    byState.forEach(states::put);
    lines.add(summary);
    byReason.forEach(
        (reason, n) -> lines.add(Json.object().put("rejected", reason).put("count", n)));
    for (Event event : events.list()) {
      if (event.state() == EventState.OPEN) {
        ObjectNode node = Json.object();
        node.put("open", event.name());
        place(node, "", event.place());
        node.set("depth", Json.measured(event.depth()));
        node.set("signal_to_noise", Json.quantity(event.signalToNoise()));
        node.put("shape", event.shape().name());
        lines.add(node);
      }
    }
    return lines;
  }

  static List<ObjectNode> visibility(Visibility visibility) {
    List<ObjectNode> lines = new ArrayList<>();
    for (Visibility.Sight sight : visibility.sights()) {
      ObjectNode node = Json.object();
      node.put("seen", sight.pass()).put("channel", sight.channel());
      place(node, "", sight.start());
      place(node, "2", sight.end());
      node.set("reach", Json.quantity(sight.reach()));
      node.set("smallest", Json.quantity(sight.smallest()));
      node.set("half_width", Json.quantity(sight.halfWidth()));
      node.put("basis", sight.basis());
      lines.add(node);
    }
    for (Visibility.Unseen unseen : visibility.unseen()) {
      ObjectNode node = Json.object();
      node.put("unseen", unseen.why());
      place(node, "", unseen.from());
      place(node, "2", unseen.to());
      node.set("below", Json.quantity(unseen.below()));
      lines.add(node);
    }
    return lines;
  }

  static List<ObjectNode> table(String name, String step, Table table) {
    List<ObjectNode> lines = new ArrayList<>();
    ObjectNode head = Json.object();
    head.put("table", name).put("step", step).put("rows", table.rows());
    ArrayNode columns = head.putArray("columns");
    table.columns().forEach(column -> columns.add(column.name()));
    lines.add(head);
    for (int i = 0; i < table.rows(); i++) {
      ObjectNode row = Json.object();
      row.put("table", name).put("row", i + 1);
      ArrayNode cells = row.putArray("cells");
      for (Table.Column column : table.columns()) {
        cells.add(column.text(i));
      }
      lines.add(row);
    }
    return lines;
  }

  static ObjectNode conclusion(String name, String step, Conclusion conclusion) {
    ObjectNode node = Json.object();
    node.put("conclusion", name).put("step", step);
    node.put("subject", conclusion.subject());
    node.put("statement", conclusion.statement());
    node.put("verdict", conclusion.verdict().words());
    conclusion.margin().ifPresent(margin -> {
      ObjectNode shown = Json.quantity(margin.value());
      shown.set("u", Json.number(margin.u().value()));
      node.set("margin", shown);
      node.set("rests_on", Json.budget(margin.budget()));
    });
    conclusion.nearest().ifPresent(nearest -> node.put("nearest", nearest));
    if (!conclusion.figures().isEmpty()) {
      ObjectNode figures = node.putObject("figures");
      conclusion.figures().forEach((key, value) -> figures.set(key, Json.number(value)));
    }
    return node;
  }

  static ObjectNode velocity(String step, VelocityEstimate estimate) {
    ObjectNode node = Json.measured(estimate.velocity());
    node.put("result", step).put("method", estimate.method()).put("evidence", estimate.evidence());
    node.set("permittivity", Json.measured(estimate.permittivity()));
    node.put("determinations", estimate.members().size());
    return node;
  }
}
