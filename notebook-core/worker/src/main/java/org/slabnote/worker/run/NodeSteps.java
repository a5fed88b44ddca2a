package org.slabnote.worker.run;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.BiFunction;
import java.util.function.Function;
import org.slabnote.api.Filter;
import org.slabnote.api.Operation;
import org.slabnote.api.Step;
import org.slabnote.api.Steps;

/** Steps of the graph by name. */
final class NodeSteps<R> implements Steps<R> {
  private final Graph graph;
  private final Map<String, Node<R>> nodes;

  NodeSteps(Graph graph, Map<String, Node<R>> nodes) {
    this.graph = graph;
    this.nodes = new LinkedHashMap<>(nodes);
  }

  Map<String, Node<R>> nodes() {
    return nodes;
  }

  @Override
  public List<String> names() {
    return List.copyOf(nodes.keySet());
  }

  @Override
  public Step<R> of(String name) {
    return node(name);
  }

  private Node<R> node(String name) {
    Node<R> node = nodes.get(name);
    if (node == null) {
      throw new IllegalArgumentException("no step for " + name + "; there "
          + (nodes.isEmpty() ? "is none" : "are " + String.join(", ", nodes.keySet())));
    }
    return node;
  }

  @Override
  public Steps<R> then(Filter<R> filter) {
    Family family = new Family(false);
    Map<String, Node<R>> next = new LinkedHashMap<>();
    nodes.forEach((name, node) -> next.put(name, graph.filter(node, filter, family, name)));
    return new NodeSteps<>(graph, next);
  }

  @Override
  public <S> Steps<S> each(Function<? super Step<R>, ? extends Operation<S>> operation) {
    List<Operation<S>> operations = new ArrayList<>();
    nodes.values().forEach(node -> operations.add(operation.apply(node)));
    return graph.operations(names(), operations);
  }

  @Override
  public <T, S> Steps<S> each(
      Steps<T> other,
      BiFunction<? super Step<R>, ? super Step<T>, ? extends Operation<S>> operation) {
    List<Operation<S>> operations = new ArrayList<>();
    nodes.forEach((name, node) -> operations.add(operation.apply(node, other.of(name))));
    return graph.operations(names(), operations);
  }

  @Override
  public Steps<R> in(Steps<?> other) {
    Map<String, Node<R>> kept = new LinkedHashMap<>(nodes);
    kept.keySet().retainAll(other.names());
    return new NodeSteps<>(graph, kept);
  }
}
