package org.slabnote.worker.run;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.function.Function;
import java.util.function.IntSupplier;
import java.util.function.Supplier;
import org.slabnote.api.Filter;
import org.slabnote.api.Operation;
import org.slabnote.api.Scan;
import org.slabnote.api.Step;
import org.slabnote.api.Steps;
import org.slabnote.api.SurveyRow;
import org.slabnote.worker.RunOutcome.StepFact.Kind;

/**
 * The steps that the cells stated, in order, and their addresses.
 *
 * <p>A step is named when its statement has run: after the variable that holds it, or by operation
 * and ordinal; or earlier by operation and ordinal, when it is demanded within the statement. All
 * methods are called by the replay thread, {@link #valueOf} by computing threads too.
 */
final class Graph {
  private final List<Node<?>> nodes = new ArrayList<>();
  private final Map<String, Node<?>> byAddress = new HashMap<>();
  private final Map<SurveyRow, Node<Scan>> scans = new LinkedHashMap<>();
  private final Map<String, Integer> ordinals = new HashMap<>();
  private final Set<String> reserved = new HashSet<>();
  private final Statements statements;
  private final Supplier<Place> here;
  private final IntSupplier statement;
  private final Thread replay = Thread.currentThread();
  private Function<Node<?>, Object> demand = node -> {
    throw new IllegalStateException("nothing computes yet");
  };

  private String cell = "";
  private String variable = "";
  private final Set<Family> unnamed = new LinkedHashSet<>();

  Graph(
      Statements statements, List<SurveyRow> survey, Supplier<Place> here, IntSupplier statement) {
    this.statements = statements;
    this.here = here;
    this.statement = statement;
    survey.forEach(row -> reserved.add(address(row)));
  }

  /** Says who computes what a cell gets. */
  void computesBy(Function<Node<?>, Object> how) {
    demand = how;
  }

  List<Node<?>> nodes() {
    return nodes;
  }

  Optional<Node<?>> at(String address) {
    return Optional.ofNullable(byAddress.get(address));
  }

  static String address(SurveyRow row) {
    return "scan/" + row.pass() + "/" + row.channel();
  }

  /** Returns the step of a scan; it is stated by whoever asks first. */
  Node<Scan> scan(SurveyRow row) {
    Node<Scan> known = scans.get(row);
    if (known != null) {
      return known;
    }
    Family family = new Family(true);
    Node<Scan> node = add(statements.scan(row, here.get()), family, "");
    scans.put(row, node);
    unnamed.remove(family);
    node.address = address(row);
    node.familyAddress = address(row);
    byAddress.put(address(row), node);
    return node;
  }

  <R> Node<R> operation(Operation<R> operation) {
    return add(statements.operation(operation, here.get()), new Family(true), "");
  }

  <S> Steps<S> operations(List<String> names, List<? extends Operation<S>> operations) {
    Family family = new Family(false);
    Map<String, Node<S>> made = new LinkedHashMap<>();
    for (int i = 0; i < names.size(); i++) {
      if (made.containsKey(names.get(i))) {
        throw new IllegalArgumentException(
            "two steps of the name " + names.get(i) + "; expected a different name for each");
      }
      made.put(
          names.get(i),
          add(statements.operation(operations.get(i), here.get()), family, names.get(i)));
    }
    return new NodeSteps<>(this, made);
  }

  <R> Step<R> filter(Node<R> input, Filter<R> filter) {
    return filter(input, filter, new Family(true), "");
  }

  <R> Node<R> filter(Node<R> input, Filter<R> filter, Family family, String member) {
    return add(statements.filter(input, filter, here.get()), family, member);
  }

  private <R> Node<R> add(Node.Statement statement, Family family, String member) {
    Node<R> node = new Node<>(this, nodes.size(), statement, family, member);
    node.statedBy = this.statement.getAsInt();
    nodes.add(node);
    family.nodes().add(node);
    unnamed.add(family);
    return node;
  }

  /** Begins a statement of a cell that declares a variable, or none. */
  void begin(String inCell, String declares) {
    cell = inCell;
    variable = declares;
    unnamed.clear();
  }

  /** Ends the statement: what it stated gets its names. */
  void end(Optional<Object> held) {
    held.ifPresent(this::nameAfterVariable);
    for (Family family : List.copyOf(unnamed)) {
      nameByOrdinal(family);
    }
  }

  private void nameAfterVariable(Object held) {
    String name = cell + "/" + variable;
    if (held instanceof Node<?> node) {
      if (node.address == null) {
        name(node, name, name);
      }
    } else if (held instanceof NodeSteps<?> steps) {
      for (Map.Entry<String, ? extends Node<?>> e : steps.nodes().entrySet()) {
        if (e.getValue().address == null) {
          name(e.getValue(), name + "/" + e.getKey(), name);
        }
      }
    }
  }

  /** Names those of a family that have no name yet by operation and ordinal. */
  void nameByOrdinal(Family family) {
    unnamed.remove(family);
    List<Node<?>> open =
        family.nodes().stream().filter(node -> node.address == null).toList();
    if (open.isEmpty()) {
      return;
    }
    String prefix = cell + (variable.isEmpty() ? "" : "/" + variable) + "/" + open.get(0).operation;
    String name = prefix + "." + ordinals.merge(prefix, 1, Integer::sum);
    for (Node<?> node : open) {
      name(node, node.family.single() ? name : name + "/" + node.member, name);
    }
  }

  private void name(Node<?> node, String wanted, String family) {
    String address = wanted;
    for (int i = 2; byAddress.containsKey(address) || reserved.contains(address); i++) {
      address = wanted + "~" + i;
    }
    node.familyAddress = address.equals(wanted) ? family : address;
    node.address = address;
    byAddress.put(address, node);
  }

  /** Names whatever of a step and its inputs has no name yet; then their keys can be made. */
  void nameUpTo(Node<?> node) {
    for (Family family : List.copyOf(unnamed)) {
      if (family.nodes().get(0).index <= node.index) {
        nameByOrdinal(family);
      }
    }
  }

  /** Returns the value of a step: to a cell it is computed, to an operation it is there. */
  Object valueOf(Node<?> node) {
    if (Thread.currentThread() == replay) {
      return demand.apply(node);
    }
    Object value = node.value;
    if (value == null) {
      throw new IllegalStateException(node
          + " was asked for by an operation that does not have it as an input. "
          + "Make it a component of the operation's record");
    }
    return value;
  }

  /** Returns the node behind a handle that a cell gave. */
  static Node<?> node(Step<?> step, String what) {
    if (step instanceof Node<?> node) {
      return node;
    }
    throw new IllegalArgumentException(
        what + " is no step of this notebook; state it with run(...), then(...) or each(...)");
  }

  /** Returns the indexes of steps and all they depend on. */
  static Set<Integer> upstream(List<Node<?>> nodes, Iterable<? extends Node<?>> of) {
    TreeMap<Integer, Node<?>> open = new TreeMap<>();
    of.forEach(node -> open.put(node.index, node));
    Set<Integer> found = new HashSet<>();
    while (!open.isEmpty()) {
      Node<?> node = nodes.get(open.lastKey());
      open.remove(node.index);
      found.add(node.index);
      for (Node.Input input : node.statement.inputs()) {
        input.nodes().forEach(one -> open.put(one.index, one));
      }
    }
    return found;
  }

  static boolean isScan(Node<?> node) {
    return node.statement.kind() == Kind.SCAN;
  }
}
