package org.slabnote.engine.run;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.SortedMap;
import java.util.SortedSet;
import java.util.TreeMap;
import java.util.TreeSet;
import org.slabnote.api.SurveyRow;
import org.slabnote.api.codec.Canonical;
import org.slabnote.engine.compiler.Statement;
import org.slabnote.engine.job.PinnedPlugin;
import org.slabnote.engine.record.Demand;
import org.slabnote.engine.record.Fingerprint;
import org.slabnote.engine.record.RunFacts;
import org.slabnote.engine.record.StepFact;
import org.slabnote.worker.RunOutcome;

/** Turns what the worker tells of a whole run into the facts of a record. */
final class Facts {
  private final Prepared prepared;
  private final RunOutcome outcome;

  Facts(Prepared prepared, RunOutcome outcome) {
    this.prepared = prepared;
    this.outcome = outcome;
  }

  RunFacts facts() {
    SortedMap<String, SortedSet<String>> dataRead = new TreeMap<>();
    outcome.cells().forEach(cell -> dataRead.put(cell.name(), new TreeSet<>(cell.blocks())));
    SortedMap<String, Object> values = new TreeMap<>();
    Set<String> demanded = demanded();
    outcome.values().forEach((address, fact) -> {
      if (demanded.contains(address)) {
        fact.value().ifPresent(value -> values.put(address, value));
      }
    });
    return new RunFacts(
        prepared.job(),
        prepared.compiled(),
        plugins(),
        scans(),
        dataRead,
        steps(),
        demands(),
        values);
  }

  SortedMap<String, Fingerprint> fingerprints() {
    SortedMap<String, Fingerprint> prints = new TreeMap<>();
    for (String address : demanded()) {
      RunOutcome.ValueFact fact = outcome.values().get(address);
      if (fact != null) {
        RunOutcome.Statistics numbers = fact.statistics();
        prints.put(
            address,
            new Fingerprint(
                fact.sha256(),
                numbers.count(),
                numbers.min(),
                numbers.max(),
                numbers.rms(),
                Arrays.stream(numbers.samples().toArray()).boxed().toList()));
      }
    }
    return prints;
  }

  private Set<String> demanded() {
    Set<String> addresses = new LinkedHashSet<>();
    for (RunOutcome.Demand demand : outcome.demands()) {
      addresses.add(demand.address());
      addresses.addAll(demand.over());
    }
    return addresses;
  }

  /** The plugins that had a part in the run: another one installed beside them changes no record. */
  private List<RunFacts.PluginFact> plugins() {
    Set<String> used = new LinkedHashSet<>();
    for (RunOutcome.StepFact step : outcome.steps()) {
      if (step.needed()) {
        String id = step.operation().replaceAll("\\..*", "");
        used.add(step.owner().isEmpty() ? id : step.owner());
      }
    }
    List<RunFacts.PluginFact> plugins = new ArrayList<>();
    for (RunOutcome.PluginFact one : outcome.plugins()) {
      if (used.contains(one.id())) {
        Optional<PinnedPlugin> pinned = prepared.job().plugins().pinned(one.id());
        plugins.add(pinned
            .map(RunFacts.PluginFact::pinned)
            .orElseGet(() -> prepared.toolbox().isBundled(one.id())
                ? RunFacts.PluginFact.bundled(one.id(), Toolbox.ownVersion())
                : RunFacts.PluginFact.bundled(one.id(), one.version())));
      }
    }
    return plugins;
  }

  private List<RunFacts.ScanFact> scans() {
    Map<String, RunOutcome.ScanFact> read = new HashMap<>();
    outcome.scans().forEach(scan -> read.put(scan.address(), scan));
    Set<String> needed = new LinkedHashSet<>();
    outcome.steps().stream()
        .filter(step -> step.kind() == RunOutcome.StepFact.Kind.SCAN && step.needed())
        .forEach(step -> needed.add(step.address()));
    List<RunFacts.ScanFact> scans = new ArrayList<>();
    for (SurveyRow row : prepared.job().survey().rows()) {
      String address = "scan/" + row.pass() + "/" + row.channel();
      RunOutcome.ScanFact fact = read.get(address);
      if (fact != null && needed.contains(address)) {
        scans.add(new RunFacts.ScanFact(
            row.pass(),
            row.channel(),
            row.file(),
            fact.format() + "/" + fact.revision(),
            fact.remarks()));
      }
    }
    return scans;
  }

  private List<StepFact> steps() {
    List<StepFact> steps = new ArrayList<>();
    for (RunOutcome.StepFact one : outcome.steps()) {
      if (one.needed() && one.kind() != RunOutcome.StepFact.Kind.SCAN) {
        SortedMap<String, List<String>> inputs = new TreeMap<>();
        one.inputs().forEach(input -> inputs.put(input.component(), input.addresses()));
        boolean declared = one.owner().isEmpty();
        steps.add(new StepFact(
            one.address(),
            one.family(),
            one.member(),
            declared ? "cell:" + one.operation() : one.operation() + "/" + one.revision(),
            declared ? declaredBy(one) : "",
            one.parameters(),
            inputs));
      }
    }
    return steps;
  }

  /** Digest of the text that declares an operation: its own statement. */
  private String declaredBy(RunOutcome.StepFact step) {
    for (Statement statement : prepared.compiled().statements()) {
      if (statement.kind() == Statement.Kind.TYPE && names(step, statement)) {
        return Canonical.sha256(statement.source().getBytes(StandardCharsets.UTF_8));
      }
    }
    return "";
  }

  private static boolean names(RunOutcome.StepFact step, Statement statement) {
    String id = step.operation();
    return id.equals(statement.defines())
        || id.endsWith("." + statement.defines())
        || statement.source().contains("\"" + id + "\"");
  }

  private List<Demand> demands() {
    List<Demand> demands = new ArrayList<>();
    for (RunOutcome.Demand one : outcome.demands()) {
      demands.add(
          switch (one.kind()) {
            case GOT -> new Demand(Demand.Kind.READ, one.cell(), one.address(), List.of());
            case SHOW -> new Demand(Demand.Kind.SHOW, "", one.address(), one.over());
            case TABLE -> new Demand(Demand.Kind.TABLE, one.name(), one.address(), List.of());
            case CONCLUDE -> new Demand(Demand.Kind.CONCLUDE, one.name(), one.address(), List.of());
            case FINDINGS -> new Demand(Demand.Kind.FINDINGS, "", one.address(), List.of());
            case LEDGER -> new Demand(Demand.Kind.LEDGER, "", one.address(), List.of());
            case SEEN -> new Demand(Demand.Kind.SEEN, "", one.address(), List.of());
          });
    }
    return demands;
  }
}
