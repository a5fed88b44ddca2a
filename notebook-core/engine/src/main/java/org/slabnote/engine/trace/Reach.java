package org.slabnote.engine.trace;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import org.slabnote.api.Cut;
import org.slabnote.engine.job.Job;
import org.slabnote.engine.trace.Causes.Cause;
import org.slabnote.engine.trace.OutOfDate.Stale;
import org.slabnote.worker.RunOutcome;
import org.slabnote.worker.RunOutcome.StepFact;
import org.slabnote.worker.Trail;

/**
 * Follows what is another than in a run: from statements and files to names, steps and cells.
 *
 * <p>A statement is reached when it was edited, when it reads a name that a reached statement defines
 * or may have changed in place, a part of the job that is another, or the value of a reached step. A
 * step is reached when its statement, an input, its scan, its survey row or its plugin is. A cell is
 * reached when a statement of it, a step that it stated and something needs, or a step that it shows is.
 */
final class Reach {
  private final Trace before;
  private final Inputs was;
  private final Inputs now;
  private final Seeds seeds;
  private final Matching matching;
  private final Map<String, Causes> names = new HashMap<>();
  /** By number of the statement of now. */
  private final Map<Integer, Causes> statements = new HashMap<>();

  private final Map<String, Causes> steps = new HashMap<>();
  private final Map<Integer, List<Trail.Read>> readsOf;
  private final Map<Integer, List<StepFact>> statedBy = new HashMap<>();

  private Reach(Trace before, Inputs now) {
    this.before = before;
    this.was = before.inputs();
    this.now = now;
    seeds = new Seeds(was, now);
    matching = new Matching(was.statements(), now.statements());
    readsOf = before.reads().stream().collect(Collectors.groupingBy(Trail.Read::statement));
    for (StepFact step : before.steps()) {
      int by = before.statedBy().getOrDefault(step.address(), -1);
      statedBy.computeIfAbsent(by, number -> new ArrayList<>()).add(step);
    }
    follow();
  }

  static Reach of(Trace before, Inputs now) {
    return new Reach(before, now);
  }

  /** What reached a statement of now. */
  Causes ofStatement(int number) {
    return statements.getOrDefault(number, new Causes());
  }

  private void follow() {
    steps(-1, new Causes());
    for (int number : matching.removed()) {
      Stated gone = was.statements().get(number);
      Causes causes = new Causes();
      causes.add(gone(gone));
      if (!gone.defines().isEmpty()) {
        name(gone.defines(), causes);
      }
      changedInPlace(gone, causes);
      steps(number, causes);
    }
    for (int i = 0; i < now.statements().size(); i++) {
      statement(i);
    }
  }

  private Cause gone(Stated gone) {
    if (now.cells().contains(gone.cell())) {
      return Cause.edited(gone.cell());
    }
    for (String cell : now.cells()) {
      if (isNew(cell) && formerName(cell).equals(gone.cell())) {
        return fresh(cell);
      }
    }
    String what = gone.defines().isEmpty() ? "" : ", which defined " + gone.defines() + ",";
    return new Cause(Causes.Kind.GONE, gone.cell(), what + " is gone", "");
  }

  private void statement(int number) {
    Stated one = now.statements().get(number);
    int old = matching.old(number);
    Causes causes = new Causes();
    if (!matching.isSame(number)) {
      causes.add(isNew(one.cell()) ? fresh(one.cell()) : Cause.edited(one.cell()));
    }
    one.reads().forEach(name -> causes.addAll(names.getOrDefault(name, new Causes())));
    one.writes().forEach(name -> causes.addAll(names.getOrDefault(name, new Causes())));
    List<Trail.Read> reads = readsOf.getOrDefault(old, List.of());
    reads.forEach(read -> causes.addAll(seeds.ofRead(read)));
    boolean more = true;
    while (more) { // a statement may get the value of a step that it stated
      steps(old, causes);
      more = false;
      for (Trail.Read read : reads) {
        if (read.kind() == Trail.Kind.VALUE && steps.containsKey(read.name())) {
          more |= causes.addAll(steps.getOrDefault(read.name(), new Causes()));
        }
      }
    }
    if (causes.isEmpty()) {
      return;
    }
    statements.put(number, causes);
    if (!one.defines().isEmpty()) {
      name(one.defines(), causes);
    }
    one.writes().forEach(name -> name(name, causes));
    changedInPlace(one, causes);
  }

  /** What a statement may have changed in place is another for all that read it afterwards. */
  private void changedInPlace(Stated one, Causes causes) {
    if (one.changes()) {
      for (Stated other : was.statements()) {
        if (other.shared() && one.reads().contains(other.defines())) {
          name(other.defines(), causes);
        }
      }
    }
  }

  private void name(String name, Causes causes) {
    names.computeIfAbsent(name, none -> new Causes()).addAll(causes);
  }

  private boolean isNew(String cell) {
    return !was.cells().contains(cell);
  }

  /** A new cell, or one that had another name. */
  private Cause fresh(String cell) {
    String former = formerName(cell);
    String words = former.isEmpty() ? "" : ", named `" + former + "` before";
    return new Cause(Causes.Kind.NEW, cell, words, "");
  }

  private String formerName(String cell) {
    List<String> signs = signs(now, cell);
    for (String other : was.cells()) {
      if (!now.cells().contains(other) && !signs.isEmpty() && signs.equals(signs(was, other))) {
        return other;
      }
    }
    return "";
  }

  private static List<String> signs(Inputs inputs, String cell) {
    return inputs.statements().stream()
        .filter(one -> one.cell().equals(cell) && !one.isImport())
        .map(Stated::sign)
        .toList();
  }

  /** Passes on to the steps that a statement of the run stated. */
  private void steps(int old, Causes causes) {
    for (StepFact step : statedBy.getOrDefault(old, List.of())) {
      Causes own = seeds.ofStep(step);
      if (step.kind() != StepFact.Kind.SCAN && !hasItsCut(step, causes)) {
        own.addAll(causes);
      }
      for (RunOutcome.Input input : step.inputs()) {
        input.addresses().forEach(address -> own.addAll(steps.getOrDefault(address, new Causes())));
      }
      if (!own.isEmpty()) {
        steps.computeIfAbsent(step.address(), none -> new Causes()).addAll(own);
      }
    }
  }

  /**
   * A step of a family over the cuts, with its cut for the only parameter, hangs on that cut alone,
   * where nothing but cuts reached its statement.
   */
  private boolean hasItsCut(StepFact step, Causes causes) {
    if (step.parameters().size() != 1
        || !(step.parameters().get(step.parameters().firstKey()) instanceof Cut cut)
        || !cut.name().equals(step.member())) {
      return false;
    }
    return causes.all().stream()
            .allMatch(cause -> Set.of(Job.CUTS, Job.SHEET).contains(cause.file()))
        && Parts.cut(now, cut.name()).filter(cut::equals).isPresent();
  }

  /** The cells that were reached, and what changed beside them. */
  OutOfDate outOfDate() {
    Map<String, Causes> cells = new HashMap<>();
    statements.forEach(
        (number, causes) -> cell(cells, now.statements().get(number).cell(), causes));
    matching.removed().forEach(number -> {
      Causes causes = new Causes();
      causes.add(Cause.edited(was.statements().get(number).cell()));
      cell(cells, was.statements().get(number).cell(), causes);
    });
    for (StepFact step : before.steps()) {
      if (step.needed() && steps.containsKey(step.address())) {
        cell(cells, step.cell(), steps.getOrDefault(step.address(), new Causes()));
      }
    }
    for (RunOutcome.Demand demand : before.demands()) {
      List<String> shown = new ArrayList<>(demand.over());
      shown.add(demand.address());
      shown.forEach(
          address -> cell(cells, demand.cell(), steps.getOrDefault(address, new Causes())));
    }
    for (String cell : now.cells()) {
      if (isNew(cell) && !cells.containsKey(cell)) {
        Causes causes = new Causes();
        causes.add(fresh(cell));
        cell(cells, cell, causes);
      }
    }
    List<Stale> stale = new ArrayList<>();
    for (String cell : now.cells()) {
      Causes causes = cells.get(cell);
      if (causes != null) {
        stale.add(new Stale(cell, reached(cell), causes.words(cell)));
      }
    }
    return new OutOfDate(stale, beside(cells));
  }

  private static void cell(Map<String, Causes> cells, String cell, Causes causes) {
    if (!causes.isEmpty() && !cell.isEmpty()) {
      cells.computeIfAbsent(cell, none -> new Causes()).addAll(causes);
    }
  }

  private List<String> reached(String cell) {
    return before.steps().stream()
        .filter(
            step -> step.cell().equals(cell) && step.needed() && steps.containsKey(step.address()))
        .map(StepFact::address)
        .toList();
  }

  /** What changed and reached no cell: the record holds its digest all the same. */
  private List<String> beside(Map<String, Causes> cells) {
    Set<String> told = new HashSet<>();
    cells.values().forEach(causes -> causes.all().forEach(cause -> told.add(cause.file())));
    List<String> beside = new ArrayList<>();
    for (String cell : now.cells()) {
      boolean same = Objects.equals(now.texts().get(cell), was.texts().get(cell));
      if (!same && !isNew(cell) && !cells.containsKey(cell)) {
        beside.add(
            "cell `" + cell + "`: only comments or layout changed; nothing is computed again");
      }
    }
    List<String> renamed =
        now.cells().stream().filter(this::isNew).map(this::formerName).toList();
    for (String cell : was.cells()) {
      if (!now.cells().contains(cell) && !renamed.contains(cell)) {
        beside.add("cell `" + cell + "` is gone");
      }
    }
    List<String> kept = new ArrayList<>(was.cells());
    kept.retainAll(now.cells());
    List<String> order = new ArrayList<>(now.cells());
    order.retainAll(was.cells());
    if (!kept.equals(order)) {
      beside.add("the order of the cells changed");
    }
    blocks(cells, beside);
    files(told, beside);
    return beside;
  }

  private void blocks(Map<String, Causes> cells, List<String> beside) {
    Set<String> names = new TreeSet<>(was.blocks().keySet());
    names.addAll(now.blocks().keySet());
    for (String name : names) {
      boolean told = cells.values().stream()
          .flatMap(causes -> causes.all().stream())
          .anyMatch(cause -> cause.words().startsWith("data `" + name + "`"));
      if (!told && !Objects.equals(was.texts().get(name), now.texts().get(name))) {
        String what = !now.blocks().containsKey(name)
            ? " is gone"
            : !was.blocks().containsKey(name) ? " is new" : " changed";
        beside.add("data `" + name + "`" + what + "; nothing is computed again");
      }
    }
  }

  private void files(Set<String> told, List<String> beside) {
    Set<String> names = new TreeSet<>(was.files().keySet());
    names.addAll(now.files().keySet());
    for (String name : names) {
      if (told.contains(name)
          || Objects.equals(was.files().get(name), now.files().get(name))) {
        continue;
      }
      if (!now.files().containsKey(name) || !was.files().containsKey(name)) {
        beside.add(name + (now.files().containsKey(name) ? " is new" : " is gone"));
      } else if (name.equals(Job.SHEET)) {
        List<String> facts = new ArrayList<>(
            Seeds.changed(Seeds.facts(was.sheet()), Seeds.facts(now.sheet())).keySet());
        beside.add("the job sheet changed"
            + (facts.isEmpty() ? " in its layout" : Seeds.list(facts))
            + "; no cell reads that, and nothing is computed again");
      } else {
        beside.add(name + " changed; no result hangs on that, and nothing is computed again");
      }
    }
  }
}
