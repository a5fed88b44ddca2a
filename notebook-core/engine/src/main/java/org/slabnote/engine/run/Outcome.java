package org.slabnote.engine.run;

import java.util.List;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import org.slabnote.api.Conclusion;
import org.slabnote.api.Events;
import org.slabnote.api.Targets;
import org.slabnote.api.Visibility;
import org.slabnote.engine.job.Job;
import org.slabnote.engine.problem.Problem;
import org.slabnote.engine.record.Demand;
import org.slabnote.engine.record.RecordFiles;
import org.slabnote.engine.record.RunFacts;

/**
 * What a complete run did and found.
 *
 * @param facts all of it
 * @param record the record and digests, not written yet
 * @param values every demanded step's value, large ones too
 * @param warnings what was set aside without stopping the run: plugins that could not be loaded
 * @since 0.1
 */
public record Outcome(RunFacts facts, RecordFiles record, Values values, List<Problem> warnings) {
  /** Copies the list. */
  public Outcome {
    warnings = List.copyOf(warnings);
  }

  /** The job as it was read. */
  public Job job() {
    return facts.job();
  }

  /** The value of a step that was demanded, or asked for beside the notebook. */
  public Optional<Object> value(String address) {
    return values.find(address);
  }

  /** The same with the large values among the facts, for whoever draws them all. */
  Outcome withAllValues() {
    SortedMap<String, Object> all = new TreeMap<>();
    for (String address : values.addresses()) {
      values.find(address).ifPresent(value -> all.put(address, value));
    }
    RunFacts whole = new RunFacts(
        facts.job(),
        facts.compiled(),
        facts.plugins(),
        facts.scans(),
        facts.dataRead(),
        facts.steps(),
        facts.demands(),
        all);
    return new Outcome(whole, record, values, warnings);
  }

  /** What was asked for, in order. */
  public List<Demand> demands() {
    return facts.demands();
  }

  /** The findings; the last ones where the notebook states several. */
  public Optional<Targets> findings() {
    return last(Demand.Kind.FINDINGS, Targets.class);
  }

  /** The event ledger; the last where the notebook states several. */
  public Optional<Events> ledger() {
    return last(Demand.Kind.LEDGER, Events.class);
  }

  /** What could have been seen; the last where the notebook states several. */
  public Optional<Visibility> seen() {
    return last(Demand.Kind.SEEN, Visibility.class);
  }

  /** The conclusions in order, each with its name in the demand. */
  public List<Conclusion> conclusions() {
    return facts.demands().stream()
        .filter(demand -> demand.kind() == Demand.Kind.CONCLUDE)
        .map(demand -> (Conclusion) facts.values().get(demand.address()))
        .toList();
  }

  private <T> Optional<T> last(Demand.Kind kind, Class<T> type) {
    return facts.demands().stream()
        .filter(demand -> demand.kind() == kind)
        .reduce((first, second) -> second)
        .map(demand -> type.cast(facts.values().get(demand.address())));
  }
}
