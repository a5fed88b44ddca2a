package org.slabnote.worker.run;

import java.util.ArrayList;
import java.util.BitSet;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.slabnote.worker.Planned;

/** Says of steps that are to be computed what is known before they are. Guarded by the scheduler's lock. */
final class Plans {
  private final Graph graph;
  private final Keys keys;
  /** Numbers of the scans that a step depends on. */
  private final Map<Integer, BitSet> scans = new HashMap<>();

  private final Map<Integer, Long> bytes = new HashMap<>();
  private List<Planned> fresh = new ArrayList<>();

  Plans(Graph graph, Keys keys) {
    this.graph = graph;
    this.keys = keys;
  }

  /** Adds a step; its inputs were looked at before, or have lower numbers. */
  void add(Node<?> node) {
    List<String> inputs = new ArrayList<>();
    node.statement.inputs().forEach(input -> input.nodes().forEach(one -> inputs.add(one.named())));
    fresh.add(new Planned(
        node.named(), node.index, node.operation, node.implementation, size(node), inputs));
  }

  private long size(Node<?> node) {
    BitSet of = scansOf(node);
    return of.stream()
        .mapToLong(
            i -> bytes.computeIfAbsent(i, scan -> keys.bytes(graph.nodes().get(scan))))
        .sum();
  }

  /** All that lie upstream are worked out from the first on, so that no chain is too deep. */
  private BitSet scansOf(Node<?> node) {
    BitSet known = scans.get(node.index);
    if (known != null) {
      return known;
    }
    boolean ready = node.statement.inputs().stream()
        .allMatch(input -> input.nodes().stream().allMatch(one -> scans.containsKey(one.index)));
    if (!ready) {
      for (int i :
          Graph.upstream(graph.nodes(), List.of(node)).stream().sorted().toList()) {
        if (i != node.index && !scans.containsKey(i)) {
          join(graph.nodes().get(i));
        }
      }
    }
    return join(node);
  }

  /** Joins the scans of a step's inputs, which are known. */
  private BitSet join(Node<?> node) {
    BitSet own = new BitSet();
    if (Graph.isScan(node)) {
      own.set(node.index);
    }
    for (Node.Input input : node.statement.inputs()) {
      input.nodes().forEach(one -> own.or(scans.getOrDefault(one.index, own)));
    }
    scans.put(node.index, own);
    return own;
  }

  /** Returns what was added since the last call. */
  List<Planned> take() {
    List<Planned> taken = fresh;
    fresh = new ArrayList<>();
    return taken;
  }
}
