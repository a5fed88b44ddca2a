package org.slabnote.testkit;

import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.slabnote.api.Conclusion;
import org.slabnote.api.Cut;
import org.slabnote.api.Events;
import org.slabnote.api.JobSheet;
import org.slabnote.api.Notebook;
import org.slabnote.api.Operation;
import org.slabnote.api.Operations;
import org.slabnote.api.Orientation;
import org.slabnote.api.Picks;
import org.slabnote.api.Scan;
import org.slabnote.api.Session;
import org.slabnote.api.Step;
import org.slabnote.api.Steps;
import org.slabnote.api.Survey;
import org.slabnote.api.Table;
import org.slabnote.api.Targets;
import org.slabnote.api.Visibility;

/**
 * A session for tests: what a cell says runs at once on invented scans, and what it demanded can be
 * looked at.
 *
 * <pre>{@code
 * TestSession session = TestSession.on(InventedSurvey.of(scan));
 * session.run(() -> table("acquisition", run(new AcquisitionChecks(scans(ACROSS), scans(ALONG)))));
 * assertThat(session.tables()).containsKey("acquisition");
 * }</pre>
 *
 * @since 0.1
 */
public final class TestSession implements Session {
  private final InventedSurvey survey;
  private JobSheet job =
      new JobSheet("invented job", "", Optional.empty(), new TreeMap<>(), new TreeMap<>());
  private final Map<String, Picks> picks = new LinkedHashMap<>();
  private final Map<String, Table> data = new LinkedHashMap<>();
  private final List<Cut> cuts = new ArrayList<>();
  private final Map<String, Table> tables = new LinkedHashMap<>();
  private final Map<String, Conclusion> conclusions = new LinkedHashMap<>();
  private final List<Object> shown = new ArrayList<>();
  private Optional<Targets> findings = Optional.empty();
  private Optional<Events> ledger = Optional.empty();
  private Optional<Visibility> seen = Optional.empty();
  private int ordinal;

  private TestSession(InventedSurvey survey) {
    this.survey = survey;
  }

  /** Returns a session on the scans of a survey. */
  public static TestSession on(InventedSurvey survey) {
    return new TestSession(survey);
  }

  /** States the job sheet. */
  public TestSession with(JobSheet sheet) {
    job = sheet;
    return this;
  }

  /** Adds a block of picks under their name. */
  public TestSession with(Picks block) {
    picks.put(block.name(), block);
    return this;
  }

  /** Adds a csv block. */
  public TestSession with(String block, Table table) {
    data.put(block, table);
    return this;
  }

  /** Adds a proposed cut. */
  public TestSession with(Cut cut) {
    cuts.add(cut);
    return this;
  }

  /** Runs what a cell would say, on this thread, with this session installed. */
  public void run(Runnable cell) {
    Notebook.install(this);
    try {
      cell.run();
    } finally {
      Notebook.install(null);
    }
  }

  /** Returns the tables by name, in the order they were demanded. */
  public Map<String, Table> tables() {
    return Collections.unmodifiableMap(tables);
  }

  /** Returns the conclusions by name, in the order they were demanded. */
  public Map<String, Conclusion> conclusions() {
    return Collections.unmodifiableMap(conclusions);
  }

  /** Returns the values that were shown, each followed by what was drawn over it. */
  public List<Object> shown() {
    return List.copyOf(shown);
  }

  /** Returns the findings, once demanded. */
  public Optional<Targets> findings() {
    return findings;
  }

  /** Returns the event ledger, once demanded. */
  public Optional<Events> ledger() {
    return ledger;
  }

  /** Returns what could have been seen, once demanded. */
  public Optional<Visibility> seen() {
    return seen;
  }

  @Override
  public Survey survey() {
    return survey.table();
  }

  @Override
  public JobSheet job() {
    return job;
  }

  @Override
  public Steps<Scan> scans(Orientation orientation) {
    return survey.steps(orientation);
  }

  @Override
  public Step<Scan> scan(String pass, Orientation orientation) {
    return scans(orientation).of(pass);
  }

  @Override
  public Picks picks(String block) {
    return named(picks, block, "picks");
  }

  @Override
  public Table data(String block) {
    return named(data, block, "csv block");
  }

  private static <T> T named(Map<String, T> blocks, String name, String kind) {
    T block = blocks.get(name);
    if (block == null) {
      throw new IllegalArgumentException(
          "no " + kind + " named " + name + "; there are: " + String.join(", ", blocks.keySet()));
    }
    return block;
  }

  @Override
  public List<Cut> cuts() {
    return List.copyOf(cuts);
  }

  @Override
  public <R> Step<R> run(Operation<R> operation) {
    return run("run" + ++ordinal, operation);
  }

  @Override
  public <R> Steps<R> run(List<String> names, List<? extends Operation<R>> operations) {
    Map<String, Step<R>> steps = new LinkedHashMap<>();
    for (int i = 0; i < names.size(); i++) {
      steps.put(names.get(i), run(names.get(i), operations.get(i)));
    }
    return new TestSteps<>(steps);
  }

  private static <R> Step<R> run(String address, Operation<R> operation) {
    String id = Operations.describe(operation.getClass()).id();
    return Step.given(Operations.apply(operation, TestWork.serial().at(id + "/" + address)));
  }

  @Override
  public void show(Step<?> picture, List<Step<?>> over) {
    shown.add(picture.get());
    over.forEach(step -> shown.add(step.get()));
  }

  @Override
  public void table(String name, Step<Table> step) {
    tables.put(name, step.get());
  }

  @Override
  public void conclude(String name, Step<Conclusion> step) {
    conclusions.put(name, step.get());
  }

  @Override
  public void findings(Step<Targets> step) {
    findings = Optional.of(step.get());
  }

  @Override
  public void ledger(Step<Events> step) {
    ledger = Optional.of(step.get());
  }

  @Override
  public void seen(Step<Visibility> step) {
    seen = Optional.of(step.get());
  }
}
