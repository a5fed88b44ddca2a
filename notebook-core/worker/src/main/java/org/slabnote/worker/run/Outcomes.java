package org.slabnote.worker.run;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;
import org.slabnote.api.Conclusion;
import org.slabnote.api.Op;
import org.slabnote.worker.RunOutcome;
import org.slabnote.worker.RunOutcome.Basis;
import org.slabnote.worker.RunOutcome.CellFact;
import org.slabnote.worker.RunOutcome.Demand;
import org.slabnote.worker.RunOutcome.Input;
import org.slabnote.worker.RunOutcome.ScanFact;
import org.slabnote.worker.RunOutcome.StepFact;
import org.slabnote.worker.RunOutcome.ValueFact;
import org.slabnote.worker.Tape;
import org.slabnote.worker.Trail;

/** Gathers the outcome of a run that is over. */
final class Outcomes {
  private final Tape tape;
  private final Graph graph;
  private final Demands demands;
  private final Replay replay;
  private final List<Node<?>> more;

  Outcomes(Tape tape, Graph graph, Demands demands, Replay replay, List<Node<?>> more) {
    this.tape = tape;
    this.graph = graph;
    this.demands = demands;
    this.replay = replay;
    this.more = more;
  }

  RunOutcome outcome(
      Plugins plugins, Implementations implementations, List<ScanFact> scans, RunControl control) {
    SortedMap<String, ValueFact> values = new TreeMap<>();
    for (List<Node<?>> nodes : List.of(demands.nodes(), more)) {
      for (Node<?> node : nodes) {
        ValueFact fact = node.fact;
        if (fact != null) {
          values.put(node.named(), fact);
        }
      }
    }
    List<Demand> facts = demands.facts();
    return new RunOutcome(
        plugins.facts(implementations),
        plugins.setAside(),
        scans,
        cells(),
        steps(),
        facts,
        values,
        bases(facts, values),
        control.failures(),
        trail());
  }

  private Trail trail() {
    SortedMap<String, Integer> statedBy = new TreeMap<>();
    for (Node<?> node : graph.nodes()) {
      if (node.statedBy >= 0) {
        statedBy.put(node.named(), node.statedBy);
      }
    }
    return new Trail(demands.reads(), statedBy);
  }

  private List<CellFact> cells() {
    List<CellFact> cells = new ArrayList<>();
    for (Tape.Cell cell : tape.cells()) {
      if (replay.replayed().contains(cell.name())) {
        cells.add(new CellFact(
            cell.name(), cell.sha256(), demands.gotBy(cell.name()), demands.readBy(cell.name())));
      }
    }
    return cells;
  }

  private List<StepFact> steps() {
    Set<Integer> needed = new HashSet<>(Graph.upstream(graph.nodes(), demands.nodes()));
    List<StepFact> steps = new ArrayList<>();
    for (Node<?> node : graph.nodes()) {
      steps.add(step(node, needed.contains(node.index)));
    }
    return steps;
  }

  private static StepFact step(Node<?> node, boolean needed) {
    Node.Statement s = node.statement;
    List<Input> inputs = new ArrayList<>();
    for (Node.Input input : s.inputs()) {
      inputs.add(new Input(
          input.component(), input.nodes().stream().<String>map(Node::named).toList()));
    }
    return new StepFact(
        node.named(),
        node.familyAddress,
        node.member,
        s.place().cell(),
        s.place().line(),
        s.kind(),
        node.operation,
        node.revision,
        s.op().map(Op::purpose),
        s.owner(),
        node.implementation,
        s.parameters(),
        inputs,
        s.orientation(),
        needed,
        needed ? node.key : "");
  }

  private SortedMap<String, Basis> bases(List<Demand> facts, SortedMap<String, ValueFact> values) {
    SortedMap<String, Basis> bases = new TreeMap<>();
    for (Demand demand : facts) {
      ValueFact fact = values.get(demand.address());
      if (demand.kind() == Demand.Kind.CONCLUDE && fact != null) {
        Conclusion conclusion = (Conclusion) fact.value().orElseThrow();
        SortedMap<String, Double> sources = new TreeMap<>();
        conclusion.margin().ifPresent(margin -> sources.putAll(margin.budget()));
        bases.put(demand.name(), new Basis(sources, upstream(demand.address())));
      }
    }
    return bases;
  }

  private List<String> upstream(String address) {
    Node<?> node = graph.at(address).orElseThrow();
    return Graph.upstream(graph.nodes(), List.of(node)).stream()
        .filter(i -> i != node.index)
        .sorted()
        .<String>map(i -> graph.nodes().get(i).named())
        .toList();
  }
}
