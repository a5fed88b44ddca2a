package org.slabnote.desktop;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.SortedMap;
import java.util.SortedSet;
import java.util.TreeMap;
import java.util.function.Function;
import org.slabnote.api.Conclusion;
import org.slabnote.api.Cut;
import org.slabnote.api.Events;
import org.slabnote.api.Survey;
import org.slabnote.api.SurveyRow;
import org.slabnote.api.Targets;
import org.slabnote.api.VelocityEstimate;
import org.slabnote.api.Visibility;
import org.slabnote.engine.job.Job;
import org.slabnote.engine.problem.Problem;
import org.slabnote.engine.record.Demand;
import org.slabnote.engine.record.StepFact;
import org.slabnote.engine.run.Outcome;
import org.slabnote.report.Plan;

/**
 * What the window draws: what a run found, or, before a run, what the job's files say.
 *
 * @param title of the job sheet
 * @param survey the passes
 * @param cuts proposed cuts
 * @param targets findings
 * @param ledger events with their states
 * @param visibility what could have been seen
 * @param conclusions on the cuts, in order
 * @param velocity the velocity that depths are drawn with
 * @param shown steps that can be looked at: those that the notebook shows, then all others
 * @param dataRead names of the csv blocks that each cell read
 * @param warnings what was set aside without stopping the run
 * @param values finds a step's value by its address
 */
record Results(
    String title,
    Survey survey,
    List<Cut> cuts,
    Optional<Targets> targets,
    Optional<Events> ledger,
    Optional<Visibility> visibility,
    List<Conclusion> conclusions,
    Optional<VelocityEstimate> velocity,
    List<Shown> shown,
    SortedMap<String, SortedSet<String>> dataRead,
    List<String> warnings,
    Function<String, Optional<Object>> values) {

  /**
   * A step to be looked at.
   *
   * @param address of the step
   * @param group what it has in common with the same step on other passes
   * @param pass name of the pass; empty where the step stands alone
   * @param over addresses of what is drawn over it
   * @param demanded whether the notebook shows it
   */
  record Shown(String address, String group, String pass, List<String> over, boolean demanded) {
    Shown {
      over = List.copyOf(over);
    }
  }

  Results {
    cuts = List.copyOf(cuts);
    conclusions = List.copyOf(conclusions);
    shown = List.copyOf(shown);
    warnings = List.copyOf(warnings);
  }

  /** What the files say before anything has run. */
  static Results before(Job job) {
    return new Results(
        job.sheet().title(),
        job.survey(),
        job.cuts(),
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        List.of(),
        Optional.empty(),
        scans(job.survey()),
        new TreeMap<>(),
        List.of(),
        address -> Optional.empty());
  }

  /** What a complete run found. */
  static Results of(Outcome outcome) {
    Map<String, Set<String>> over = new LinkedHashMap<>();
    for (Demand demand : outcome.demands()) {
      if (demand.kind() == Demand.Kind.SHOW) {
        over.computeIfAbsent(demand.address(), a -> new LinkedHashSet<>()).addAll(demand.over());
      }
    }
    return new Results(
        outcome.job().sheet().title(),
        outcome.job().survey(),
        outcome.job().cuts(),
        outcome.findings(),
        outcome.ledger(),
        outcome.seen(),
        outcome.conclusions(),
        velocity(outcome),
        shown(outcome, over),
        outcome.facts().dataRead(),
        outcome.warnings().stream().map(Problem::toString).toList(),
        outcome::value);
  }

  private static List<Shown> shown(Outcome outcome, Map<String, Set<String>> over) {
    Map<String, Shown> all = new LinkedHashMap<>();
    scans(outcome.job().survey()).forEach(scan -> all.put(scan.address(), scan));
    for (StepFact step : outcome.facts().steps()) {
      all.putIfAbsent(
          step.address(), new Shown(step.address(), step.group(), step.pass(), List.of(), false));
    }
    Map<String, Shown> ordered = new LinkedHashMap<>();
    over.forEach((address, above) -> {
      Shown known = all.getOrDefault(address, new Shown(address, address, "", List.of(), true));
      ordered.put(
          address, new Shown(address, known.group(), known.pass(), List.copyOf(above), true));
    });
    all.forEach(ordered::putIfAbsent);
    return List.copyOf(ordered.values());
  }

  /** The scans as recorded. */
  private static List<Shown> scans(Survey survey) {
    List<Shown> scans = new ArrayList<>();
    for (SurveyRow row : survey.rows()) {
      scans.add(new Shown(
          "scan/" + row.pass() + "/" + row.channel(),
          "as recorded, " + row.channel(),
          row.pass(),
          List.of(),
          false));
    }
    return scans;
  }

  /** The velocity with the most determinations behind it, as the report has it. */
  private static Optional<VelocityEstimate> velocity(Outcome outcome) {
    Optional<VelocityEstimate> found = Optional.empty();
    for (Object value : outcome.facts().values().values()) {
      if (value instanceof VelocityEstimate v
          && (found.isEmpty() || v.members().size() >= found.get().members().size())) {
        found = Optional.of(v);
      }
    }
    return found;
  }

  /** The plan of the slab. */
  Plan plan() {
    return new Plan(survey, targets, cuts, conclusions, visibility);
  }
}
