package org.slabnote.engine.trace;

import java.util.ArrayList;
import java.util.Collections;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import org.slabnote.engine.compiler.Anatomy;
import org.slabnote.engine.compiler.Compiled;
import org.slabnote.engine.job.Job;
import org.slabnote.worker.RunOutcome;
import org.slabnote.worker.RunOutcome.StepFact;
import org.slabnote.worker.Trail;

/**
 * A complete run, as far as it is needed to tell what a change reaches.
 *
 * @param inputs what it depended on
 * @param steps its steps, in order
 * @param demands what was asked for, in order
 * @param reads what each statement read
 * @param statedBy number of the statement that stated a step, by address
 * @param record SHA-256 of the record that it gave
 */
public record Trace(
    Inputs inputs,
    List<StepFact> steps,
    List<RunOutcome.Demand> demands,
    List<Trail.Read> reads,
    SortedMap<String, Integer> statedBy,
    String record) {
  /** Copies lists and map. */
  public Trace {
    steps = List.copyOf(steps);
    demands = List.copyOf(demands);
    reads = List.copyOf(reads);
    statedBy = Collections.unmodifiableSortedMap(new TreeMap<>(statedBy));
  }

  /**
   * The trace of a complete run.
   *
   * @param record SHA-256 of the record that it gave
   */
  public static Trace of(Job job, Anatomy anatomy, RunOutcome outcome, Marks marks, String record) {
    return new Trace(
        Inputs.of(job, Stated.of(anatomy), marks),
        outcome.steps(),
        outcome.demands(),
        outcome.trail().reads(),
        outcome.trail().statedBy(),
        record);
  }

  /** Whether a run of this job that gave this record would leave the same trace. */
  public boolean isOf(Job job, Marks marks, String sha256) {
    return record.equals(sha256) && inputs.same(Inputs.of(job, List.of(), marks));
  }

  /** Whether the cells of a job are those of the run, text for text and in the same order. */
  public boolean sameCells(Job job) {
    return inputs.sameCells(Inputs.of(job, List.of(), new Marks(new TreeMap<>(), "")));
  }

  /**
   * What is out of date, the job being as it stands.
   *
   * @param compiled its cells; empty where they are those of the run, or do not compile
   */
  public OutOfDate outOfDate(Job job, Optional<Compiled> compiled, Marks marks) {
    List<Stated> statements = compiled
        .map(Anatomy::of)
        .map(Stated::of)
        .orElseGet(() -> guessed(Inputs.of(job, List.of(), marks)));
    return Reach.of(this, Inputs.of(job, statements, marks)).outOfDate();
  }

  /** Without a compiler's word every statement of a cell whose text changed counts as edited. */
  private List<Stated> guessed(Inputs now) {
    Map<String, List<Stated>> was = new HashMap<>();
    for (Stated one : inputs.statements()) {
      was.computeIfAbsent(one.cell(), cell -> new ArrayList<>()).add(one);
    }
    List<Stated> all = new ArrayList<>();
    for (String cell : now.cells()) {
      boolean same = Objects.equals(now.texts().get(cell), inputs.texts().get(cell));
      for (Stated one : was.getOrDefault(cell, List.of())) {
        all.add(same ? one : one.edited());
      }
    }
    return all;
  }

  /** The cell that defined a name in the run. */
  public Optional<String> definedIn(String name) {
    return inputs.statements().stream()
        .filter(one -> one.defines().equals(name))
        .map(Stated::cell)
        .findFirst();
  }

  Map<String, StepFact> byAddress() {
    Map<String, StepFact> byAddress = new HashMap<>();
    steps.forEach(step -> byAddress.put(step.address(), step));
    return byAddress;
  }
}
