package org.slabnote.engine.trace;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import org.slabnote.engine.trace.Causes.Cause;
import org.slabnote.engine.trace.OutOfDate.Stale;
import org.slabnote.worker.RunOutcome;
import org.slabnote.worker.RunOutcome.StepFact;

/** Tells of a run that is over why steps were computed, by the parts of their keys that changed. */
public final class Why {
  /** The reason of steps that nothing reached: they were quick, and their values too large to keep. */
  public static final String NOT_KEPT =
      "its values were not kept, and something that was computed needed them";

  private static final int LONG = 48;

  private final Map<String, StepFact> old;
  private final Reach reach;
  private final Trace after;
  private final Seeds seeds;
  private final Map<String, Causes> steps = new HashMap<>();

  private Why(Trace before, Trace after) {
    this.after = after;
    old = before.byAddress();
    reach = Reach.of(before, after.inputs());
    seeds = new Seeds(before.inputs(), after.inputs());
    after.steps().forEach(this::step);
  }

  /**
   * Why the cells of a run were computed again, in order; a cell of which nothing was computed is not
   * told.
   *
   * @param before the run before; empty where none is known
   * @param after the run that is over
   * @param computed addresses of the steps that were computed, not remembered
   */
  public static List<Stale> of(Optional<Trace> before, Trace after, Set<String> computed) {
    Map<String, List<String>> ofCell = new LinkedHashMap<>();
    after.inputs().cells().forEach(cell -> ofCell.put(cell, new ArrayList<>()));
    for (StepFact step : after.steps()) {
      if (computed.contains(step.address()) && ofCell.containsKey(step.cell())) {
        ofCell.get(step.cell()).add(step.address());
      }
    }
    Optional<Why> why = before.map(one -> new Why(one, after));
    List<Stale> told = new ArrayList<>();
    ofCell.forEach((cell, addresses) -> {
      if (!addresses.isEmpty()) {
        told.add(new Stale(
            cell,
            addresses,
            why.map(one -> one.reasons(cell, addresses))
                .orElse(List.of("no run before this one is known here"))));
      }
    });
    return told;
  }

  private List<String> reasons(String cell, List<String> addresses) {
    Causes causes = new Causes();
    addresses.forEach(address -> causes.addAll(steps.getOrDefault(address, new Causes())));
    return causes.isEmpty() ? List.of(NOT_KEPT) : causes.words(cell);
  }

  private void step(StepFact step) {
    StepFact was = old.get(step.address());
    if (was != null && was.key().equals(step.key()) && !step.key().isEmpty()) {
      return;
    }
    Causes causes = seeds.ofStep(step);
    int statement = after.statedBy().getOrDefault(step.address(), -1);
    Causes stated = statement < 0 ? new Causes() : reach.ofStatement(statement);
    if (was == null) {
      causes.addAll(stated);
      if (causes.isEmpty()) {
        causes.add(Cause.edited(step.cell()));
      }
    } else {
      boolean edited = stated.all().stream().anyMatch(c -> c.kind() == Causes.Kind.EDITED);
      boolean others = !was.operation().equals(step.operation())
          || was.revision() != step.revision()
          || !addresses(was).equals(addresses(step));
      List<Cause> parameters = parameters(was, step);
      if (!parameters.isEmpty() && edited) {
        parameters.forEach(causes::add);
      } else if (!parameters.isEmpty() || others) {
        causes.addAll(stated);
      }
      if (causes.isEmpty() && !was.implementation().equals(step.implementation())) {
        causes.addAll(stated); // an operation that a cell declares
      }
    }
    for (RunOutcome.Input input : step.inputs()) {
      input
          .addresses()
          .forEach(address -> causes.addAll(steps.getOrDefault(address, new Causes())));
    }
    steps.put(step.address(), causes);
  }

  private static List<List<String>> addresses(StepFact step) {
    return step.inputs().stream().map(RunOutcome.Input::addresses).toList();
  }

  private static List<Cause> parameters(StepFact was, StepFact now) {
    List<Cause> causes = new ArrayList<>();
    if (now.kind() == StepFact.Kind.SCAN || !was.operation().equals(now.operation())) {
      return causes;
    }
    Set<String> names = new TreeSet<>(was.parameters().keySet());
    names.addAll(now.parameters().keySet());
    for (String name : names) {
      Object before = was.parameters().get(name);
      Object after = now.parameters().get(name);
      if (!Objects.equals(before, after)) {
        String from = String.valueOf(before);
        String to = String.valueOf(after);
        boolean brief = before != null
            && after != null
            && from.length() <= LONG
            && to.length() <= LONG
            && !from.equals(to);
        causes.add(new Cause(
            Causes.Kind.PARAMETER,
            now.cell(),
            "parameter " + name + " of " + now.operation() + " changed"
                + (brief ? " from " + from + " to " + to : "") + " (line " + now.line() + ")",
            ""));
      }
    }
    return causes;
  }
}
