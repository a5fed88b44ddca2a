package org.slabnote.worker.run;

import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;
import org.slabnote.api.Filter;
import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Operations;
import org.slabnote.api.Orientation;
import org.slabnote.api.Step;
import org.slabnote.api.Steps;
import org.slabnote.api.SurveyRow;
import org.slabnote.api.codec.Canonical;
import org.slabnote.worker.RunOutcome.StepFact.Kind;

/** Checks what a cell states, and takes it apart into parameters and inputs. */
final class Statements {
  private final Plugins plugins;
  private final Implementations implementations;
  private final TapeLoader cells;

  Statements(Plugins plugins, Implementations implementations, TapeLoader cells) {
    this.plugins = plugins;
    this.implementations = implementations;
    this.cells = cells;
  }

  Node.Statement scan(SurveyRow row, Place place) {
    SortedMap<String, Object> parameters = new TreeMap<>();
    parameters.put("row", row);
    return new Node.Statement(
        Kind.SCAN,
        Optional.empty(),
        row,
        "",
        "",
        parameters,
        Canonical.digest(row),
        List.of(),
        Optional.of(row.antenna().orientation()),
        true,
        place);
  }

  Node.Statement filter(Node<?> input, Filter<?> filter, Place place) {
    List<Node.Input> inputs = List.of(new Node.Input("input", List.of(""), List.of(input)));
    return statement(Kind.FILTER, filter, inputs, input.statement.certain(), place);
  }

  Node.Statement operation(Operation<?> operation, Place place) {
    Op op = Operations.describe(operation.getClass());
    List<Node.Input> inputs = new ArrayList<>();
    for (Operations.Component c : Operations.components(operation.getClass())) {
      if (c.input()) {
        Node.Input input = input(op, c, Operations.value(operation, c.name()));
        c.role().ifPresent(role -> checkRole(op, input, role));
        inputs.add(input);
      }
    }
    return statement(Kind.OPERATION, operation, inputs, false, place);
  }

  private Node.Statement statement(
      Kind kind, Object body, List<Node.Input> inputs, boolean certain, Place place) {
    Class<?> type = body.getClass();
    Op op = Operations.describe(type);
    Operations.check(body);
    boolean ofCell = cells.cellOf(type.getName()).isPresent();
    String owner = ofCell
        ? ""
        : plugins
            .ownerOf(type)
            .orElseThrow(() -> new IllegalArgumentException(op.id() + " ("
                + type.getName() + ") is offered by no plugin that was loaded; expected it in the "
                + "list of its plugin. Perhaps the plugin was set aside"));
    String parameterDigest = parameterDigest(kind, body);
    SortedMap<String, Object> parameters = new TreeMap<>();
    for (Operations.Component c : Operations.components(type)) {
      if (!c.input() || kind == Kind.FILTER) {
        parameters.put(c.name(), PlainForm.of(Operations.value(body, c.name())));
      }
    }
    return new Node.Statement(
        kind,
        Optional.of(op),
        body,
        owner,
        ofCell ? implementations.ofCell(cells.digest(type)) : implementations.of(type),
        parameters,
        parameterDigest,
        inputs,
        orientation(inputs),
        certain,
        place);
  }

  /** Returns the digest of the parameters of an operation or a filter as they are now. */
  static String parameterDigest(Kind kind, Object body) {
    Op op = Operations.describe(body.getClass());
    List<Object> encoded = new ArrayList<>();
    for (Operations.Component c : Operations.components(body.getClass())) {
      if (!c.input() || kind == Kind.FILTER) {
        encoded.add(List.of(c.name(), digest(op, c.name(), Operations.value(body, c.name()))));
      }
    }
    return Canonical.digest(encoded);
  }

  private static String digest(Op op, String name, Object value) {
    try {
      return Canonical.digest(value);
    } catch (NullPointerException e) {
      throw new IllegalArgumentException(
          op.id() + ": " + name + " is null or holds a null; expected a value", e);
    }
  }

  private static Node.Input input(Op op, Operations.Component c, Object handle) {
    String what = op.id() + ": " + c.name();
    if (handle instanceof Steps<?> steps) {
      List<Node<?>> nodes = new ArrayList<>();
      steps.list().forEach(step -> nodes.add(Graph.node(step, what)));
      return new Node.Input(c.name(), steps.names(), nodes);
    }
    if (handle instanceof Optional<?> optional) {
      return optional.isEmpty()
          ? new Node.Input(c.name(), List.of(), List.of())
          : input(op, c, optional.get());
    }
    if (handle instanceof Step<?> step) {
      return new Node.Input(c.name(), List.of(""), List.of(Graph.node(step, what)));
    }
    throw new IllegalArgumentException(what + " is null; expected a step");
  }

  /** Refuses at once what is known to have the wrong orientation; the rest is checked when it is computed. */
  private static void checkRole(Op op, Node.Input input, Orientation role) {
    for (Node<?> node : input.nodes()) {
      Optional<Orientation> is = node.statement.orientation();
      if (node.statement.certain() && is.isPresent() && is.get() != role) {
        String which = Graph.isScan(node) ? node.named() : "a scan treated by " + node.operation;
        throw new IllegalArgumentException(op.id() + ": " + input.component() + " = " + which
            + ", which is " + is.get() + "; expected " + role
            + ". Perhaps the two orientations are swapped");
      }
    }
  }

  private static Optional<Orientation> orientation(List<Node.Input> inputs) {
    Set<Optional<Orientation>> all = new LinkedHashSet<>();
    for (Node.Input input : inputs) {
      input.nodes().forEach(node -> all.add(node.statement.orientation()));
    }
    return all.size() == 1 ? all.iterator().next() : Optional.empty();
  }
}
