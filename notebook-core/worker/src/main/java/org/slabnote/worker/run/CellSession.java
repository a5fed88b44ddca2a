package org.slabnote.worker.run;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.IntSupplier;
import java.util.function.Supplier;
import org.slabnote.api.Conclusion;
import org.slabnote.api.Cut;
import org.slabnote.api.Events;
import org.slabnote.api.JobSheet;
import org.slabnote.api.Operation;
import org.slabnote.api.Orientation;
import org.slabnote.api.Picks;
import org.slabnote.api.Scan;
import org.slabnote.api.Session;
import org.slabnote.api.Step;
import org.slabnote.api.Steps;
import org.slabnote.api.Survey;
import org.slabnote.api.SurveyRow;
import org.slabnote.api.Table;
import org.slabnote.api.Targets;
import org.slabnote.api.Visibility;
import org.slabnote.worker.RunOutcome.Demand.Kind;
import org.slabnote.worker.RunRequest;
import org.slabnote.worker.Trail;

/** What the cells of a run call. */
final class CellSession implements Session {
  private final RunRequest request;
  private final Graph graph;
  private final Demands demands;
  private final Supplier<Place> here;
  private final IntSupplier statement;

  CellSession(
      RunRequest request,
      Graph graph,
      Demands demands,
      Supplier<Place> here,
      IntSupplier statement) {
    this.request = request;
    this.graph = graph;
    this.demands = demands;
    this.here = here;
    this.statement = statement;
  }

  @Override
  public Survey survey() {
    read(Trail.Kind.SURVEY, "");
    return request.survey();
  }

  @Override
  public JobSheet job() {
    read(Trail.Kind.JOB, "");
    return request.job();
  }

  @Override
  public Steps<Scan> scans(Orientation orientation) {
    read(Trail.Kind.SCANS, orientation.name());
    Map<String, Node<Scan>> nodes = new LinkedHashMap<>();
    rows(orientation).forEach((name, row) -> nodes.put(name, graph.scan(row)));
    return new NodeSteps<>(graph, nodes);
  }

  @Override
  public Step<Scan> scan(String pass, Orientation orientation) {
    Map<String, SurveyRow> rows = rows(orientation);
    SurveyRow row = rows.get(pass);
    if (row == null) {
      throw new IllegalArgumentException("no scan of pass " + pass + " is " + orientation
          + "; the survey table has "
          + (rows.isEmpty() ? "none of this orientation" : String.join(", ", rows.keySet())));
    }
    read(Trail.Kind.SCAN, Graph.address(row));
    return graph.scan(row);
  }

  private void read(Trail.Kind kind, String name) {
    demands.read(statement.getAsInt(), kind, name);
  }

  /** Returns the rows of an orientation by the name of the pass, with the channel where it has several. */
  private Map<String, SurveyRow> rows(Orientation orientation) {
    List<SurveyRow> of = request.survey().rows().stream()
        .filter(row -> row.antenna().orientation() == orientation)
        .toList();
    Map<String, SurveyRow> rows = new LinkedHashMap<>();
    for (SurveyRow row : of) {
      boolean several = of.stream().filter(r -> r.pass().equals(row.pass())).count() > 1;
      if (rows.put(several ? row.pass() + ":" + row.channel() : row.pass(), row) != null) {
        throw new IllegalArgumentException("survey table: pass " + row.pass() + ", channel "
            + row.channel() + " stands twice; expected one row for each. Name the channels apart");
      }
    }
    return rows;
  }

  @Override
  public Picks picks(String block) {
    return PicksTable.of(block, data(block));
  }

  @Override
  public Table data(String block) {
    Table table = request.blocks().get(block);
    if (table == null) {
      throw new IllegalArgumentException("no csv block " + block + "; the notebook has "
          + (request.blocks().isEmpty()
              ? "none"
              : String.join(", ", request.blocks().keySet())));
    }
    demands.read(here.get().cell(), block);
    read(Trail.Kind.BLOCK, block);
    return table;
  }

  @Override
  public List<Cut> cuts() {
    read(Trail.Kind.CUTS, "");
    return request.cuts();
  }

  @Override
  public <R> Step<R> run(Operation<R> operation) {
    return graph.operation(operation);
  }

  @Override
  public <R> Steps<R> run(List<String> names, List<? extends Operation<R>> operations) {
    return graph.operations(names, operations);
  }

  @Override
  public void show(Step<?> picture, List<Step<?>> over) {
    List<Node<?>> nodes = new ArrayList<>();
    over.forEach(step -> nodes.add(Graph.node(step, "show: what is drawn over the picture")));
    demand(Kind.SHOW, "", picture, "show: the picture", nodes);
  }

  @Override
  public void table(String name, Step<Table> step) {
    demand(Kind.TABLE, name, step, "table " + name, List.of());
  }

  @Override
  public void conclude(String name, Step<Conclusion> step) {
    demand(Kind.CONCLUDE, name, step, "conclude " + name, List.of());
  }

  @Override
  public void findings(Step<Targets> step) {
    demand(Kind.FINDINGS, "", step, "findings", List.of());
  }

  @Override
  public void ledger(Step<Events> step) {
    demand(Kind.LEDGER, "", step, "ledger", List.of());
  }

  @Override
  public void seen(Step<Visibility> step) {
    demand(Kind.SEEN, "", step, "seen", List.of());
  }

  private void demand(Kind kind, String name, Step<?> step, String what, List<Node<?>> over) {
    demands.add(kind, name, here.get(), Graph.node(step, what), over);
  }
}
