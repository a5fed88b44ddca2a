package org.slabnote.engine.record;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.SortedMap;
import java.util.SortedSet;
import java.util.TreeSet;
import org.slabnote.api.Conclusion;
import org.slabnote.api.Cut;
import org.slabnote.api.Events;
import org.slabnote.api.Table;
import org.slabnote.api.Target;
import org.slabnote.api.Targets;
import org.slabnote.api.VelocityEstimate;
import org.slabnote.api.Visibility;
import org.slabnote.api.codec.Canonical;
import org.slabnote.api.quantity.Measured;
import org.slabnote.api.quantity.Quantity;
import org.slabnote.engine.compiler.Statement;
import org.slabnote.engine.document.Block;
import org.slabnote.engine.job.Job;

/**
 * Words the facts of a run: the lines of the record, and those of the digests.
 *
 * @since 0.1
 */
public final class RecordLines {
  /** Number of the record's format, raised when a reader of before would misread it. */
  public static final int FORMAT = 1;

  private final RunFacts facts;
  private final List<String> lines = new ArrayList<>();

  private RecordLines(RunFacts facts) {
    this.facts = facts;
  }

  /** The record's lines, in order, each canonical JSON. */
  public static List<String> record(RunFacts facts) {
    RecordLines record = new RecordLines(facts);
    record.job();
    record.inputs();
    record.cells();
    record.steps();
    record.results();
    record.demands();
    return record.lines;
  }

  /**
   * The lines of the digests: the record's own SHA-256, then one line for each demanded step.
   *
   * @param recordBytes the record as written
   */
  static List<String> digests(SortedMap<String, Fingerprint> fingerprints, byte[] recordBytes) {
    List<String> lines = new ArrayList<>();
    lines.add(Json.canonical(
        Json.object().put("of", Job.RECORD).put("sha256", Canonical.sha256(recordBytes))));
    fingerprints.forEach(
        (address, fingerprint) -> lines.add(Json.canonical(fingerprint.line(address))));
    return lines;
  }

  private void add(ObjectNode node) {
    lines.add(Json.canonical(node));
  }

  private void job() {
    Job job = facts.job();
    add(Json.object().put("record", FORMAT));
    add(Json.object()
        .put("title", job.sheet().title())
        .put("question", job.sheet().question()));
    job.sheet()
        .thickness()
        .ifPresent(t -> add(stated(Json.object().put("job", "element.thickness"), t)));
    job.sheet()
        .required()
        .forEach((type, length) ->
            add(stated(Json.object().put("required_clearance", type.name()), length)));
    job.sheet().facts().forEach((key, value) -> {
      if (!value.isEmpty()) {
        add(Json.object().put("job", key).put("value", value));
      }
    });
    for (Cut cut : job.cuts()) {
      ObjectNode node = Json.object();
      node.put("cut", cut.name()).put("kind", cut.kind().name());
      node.put("x_m", cut.start().x().value()).put("y_m", cut.start().y().value());
      if (cut.kind() == Cut.Kind.SAW) {
        node.put("x2_m", cut.end().x().value()).put("y2_m", cut.end().y().value());
      }
      node.put("diameter_m", cut.diameter().value()).put("depth_m", cut.depth().value());
      node.put("room_m", cut.room().value());
      add(node);
    }
    for (RunFacts.PluginFact plugin : facts.plugins()) {
      add(plugin(plugin));
    }
  }

  /** The line of a plugin. */
  static ObjectNode plugin(RunFacts.PluginFact plugin) {
    ObjectNode node = Json.object().put("plugin", plugin.id()).put("version", plugin.version());
    if (!plugin.sha256().isEmpty()) {
      node.put("jar", plugin.jar()).put("sha256", plugin.sha256());
    }
    if (!plugin.libraries().isEmpty()) {
      ObjectNode libraries = node.putObject("libraries");
      plugin.libraries().forEach(libraries::put);
    }
    return node;
  }

  private static ObjectNode stated(ObjectNode node, Quantity<?> quantity) {
    node.setAll((ObjectNode) Json.stated(quantity));
    return node;
  }

  private void inputs() {
    facts
        .job()
        .digests()
        .forEach((name, sha256) -> add(Json.object().put("input", name).put("sha256", sha256)));
    facts
        .job()
        .scans()
        .values()
        .forEach(scan -> add(Json.object()
            .put("input", Job.SCANS + "/" + scan.name())
            .put("sha256", scan.sha256())));
    for (RunFacts.ScanFact scan : facts.scans()) {
      ObjectNode node = Json.object();
      node.put("scan", "scan/" + scan.pass() + "/" + scan.channel());
      node.put("file", Job.SCANS + "/" + scan.file()).put("format", scan.format());
      if (!scan.remarks().isEmpty()) {
        ArrayNode remarks = node.putArray("remarks");
        scan.remarks().forEach(remarks::add);
      }
      add(node);
    }
    for (Block.Data data : facts.job().notebook().data()) {
      add(Json.object().put("data", data.name()).put("sha256", sha256(data.source())));
    }
  }

  private static String sha256(String text) {
    return Canonical.sha256(text.getBytes(StandardCharsets.UTF_8));
  }

  /** Each cell with what it read of other cells, of csv blocks and of values. */
  private void cells() {
    Map<String, String> cellOfName = new HashMap<>();
    for (Statement statement : facts.compiled().statements()) {
      if (!statement.defines().isEmpty()) {
        cellOfName.put(statement.defines(), statement.cell());
      }
    }
    for (Block.Cell cell : facts.job().notebook().cells()) {
      SortedSet<String> reads = new TreeSet<>();
      SortedSet<String> writes = new TreeSet<>();
      for (Statement statement : facts.compiled().statements()) {
        if (statement.cell().equals(cell.name())) {
          statement.reads().forEach(name -> addOther(reads, cellOfName, cell.name(), name));
          statement.writes().forEach(name -> addOther(writes, cellOfName, cell.name(), name));
        }
      }
      reads.addAll(facts.dataRead().getOrDefault(cell.name(), new TreeSet<>()));
      SortedSet<String> values = new TreeSet<>();
      for (Demand demand : facts.demands()) {
        if (demand.kind() == Demand.Kind.READ && demand.name().equals(cell.name())) {
          values.add(demand.address());
        }
      }
      ObjectNode node = Json.object();
      node.put("cell", cell.name()).put("sha256", sha256(cell.source()));
      array(node, "reads", reads);
      if (!writes.isEmpty()) {
        array(node, "writes", writes);
      }
      if (!values.isEmpty()) {
        array(node, "values", values);
      }
      add(node);
    }
  }

  private static void addOther(
      SortedSet<String> into, Map<String, String> cellOfName, String own, String name) {
    String cell = cellOfName.getOrDefault(name, own);
    if (!cell.equals(own)) {
      into.add(cell + "/" + name);
    }
  }

  private static void array(ObjectNode node, String key, Iterable<String> items) {
    ArrayNode array = node.putArray(key);
    items.forEach(array::add);
  }

  /** Like steps over passes stand in one line; passes that differ from the rest in their own. */
  private void steps() {
    Map<String, ObjectNode> bodies = new LinkedHashMap<>();
    Map<String, List<String>> passes = new LinkedHashMap<>();
    Map<String, List<String>> families = new HashMap<>();
    facts.steps().stream()
        .filter(step -> !step.pass().isEmpty())
        .forEach(step ->
            families.computeIfAbsent(step.group(), group -> new ArrayList<>()).add(step.address()));
    for (StepFact step : facts.steps()) {
      ObjectNode node = Json.object();
      node.put("step", step.group()).put("op", step.op());
      if (!step.declared().isEmpty()) {
        node.put("declared", step.declared());
      }
      if (!step.params().isEmpty()) {
        ObjectNode params = node.putObject("params");
        step.params().forEach((name, value) -> params.set(name, Json.stated(value)));
      }
      if (!step.inputs().isEmpty()) {
        ObjectNode inputs = node.putObject("inputs");
        step.inputs().forEach((name, addresses) -> {
          array(inputs, name, shown(step, addresses, families));
        });
      }
      String key = Json.canonical(node);
      bodies.putIfAbsent(key, node);
      List<String> over = passes.computeIfAbsent(key, k -> new ArrayList<>());
      if (!step.pass().isEmpty()) {
        over.add(step.pass());
      }
    }
    bodies.forEach((key, node) -> {
      List<String> over = passes.getOrDefault(key, List.of());
      if (!over.isEmpty()) {
        array(node, "over", over);
      }
      add(node);
    });
  }

  /** A step over passes tells inputs of its own pass with {@code *}, any other all of a family so. */
  private static Set<String> shown(
      StepFact step, List<String> addresses, Map<String, List<String>> families) {
    Set<String> shown = new LinkedHashSet<>();
    if (step.pass().isEmpty() && !addresses.isEmpty()) {
      String first = addresses.get(0);
      String family = first.substring(0, first.lastIndexOf('/'));
      if (addresses.equals(families.get(family))) {
        return Set.of(family + "/*");
      }
    }
    addresses.forEach(address -> shown.add(withoutPass(address, step.pass())));
    return shown;
  }

  /** An input of the same pass is worded with {@code *}, so that like steps read alike. */
  private static String withoutPass(String address, String pass) {
    if (pass.isEmpty()) {
      return address;
    }
    if (address.startsWith("scan/" + pass + "/")) {
      return "scan/*/" + address.substring(("scan/" + pass + "/").length());
    }
    String last = "/" + pass;
    return address.endsWith(last)
        ? address.substring(0, address.length() - last.length()) + "/*"
        : address;
  }

  /** Numbers that the record states of demanded steps that have no lines of their own. */
  private void results() {
    facts.values().forEach((address, value) -> {
      if (value instanceof VelocityEstimate estimate) {
        add(Findings.velocity(address, estimate));
      } else if (value instanceof Measured<?> measured) {
        add(Json.measured(measured).put("result", address));
      } else if (value instanceof Quantity<?> quantity) {
        add(Json.quantity(quantity).put("result", address));
      } else if (value instanceof Double number) {
        ObjectNode node = Json.object().put("result", address);
        node.set("value", Json.number(number));
        add(node);
      } else if (value instanceof String
          || value instanceof Integer
          || value instanceof Long
          || value instanceof Boolean) {
        ObjectNode node = Json.object().put("result", address);
        node.set("value", Json.stated(value));
        add(node);
      }
    });
  }

  private void demands() {
    for (Demand demand : facts.demands()) {
      Object value = facts.values().get(demand.address());
      if (demand.kind() == Demand.Kind.SHOW) {
        add(figure(demand));
      } else if (demand.kind() != Demand.Kind.READ) {
        if (value == null) {
          throw new IllegalStateException(demand.address() + " was demanded and has no value");
        }
        demanded(demand, value);
      }
    }
  }

  private static ObjectNode figure(Demand demand) {
    ObjectNode node = Json.object().put("figure", demand.address());
    array(node, "over", demand.over());
    return node;
  }

  private void demanded(Demand demand, Object value) {
    switch (demand.kind()) {
      case TABLE ->
        Findings.table(demand.name(), demand.address(), (Table) value).forEach(this::add);
      case FINDINGS -> {
        for (Target target : ((Targets) value).list()) {
          add(Findings.target(target));
        }
      }
      case LEDGER -> Findings.events((Events) value).forEach(this::add);
      case SEEN -> Findings.visibility((Visibility) value).forEach(this::add);
      case CONCLUDE ->
        add(Findings.conclusion(demand.name(), demand.address(), (Conclusion) value));
      case READ, SHOW -> {}
    }
  }
}
