package org.slabnote.engine.run;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.CompletableFuture;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.slabnote.engine.compiler.Compiled;
import org.slabnote.engine.document.Block;
import org.slabnote.engine.gate.Gate;
import org.slabnote.engine.job.Job;
import org.slabnote.engine.job.ScanDigests;
import org.slabnote.engine.plugin.PluginPins;
import org.slabnote.engine.plugin.PluginShelf;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Fault;
import org.slabnote.engine.problem.Problem;
import org.slabnote.engine.record.Recheck;
import org.slabnote.engine.record.RecordFiles;
import org.slabnote.engine.record.RecordReader;
import org.slabnote.engine.trace.Marks;
import org.slabnote.engine.trace.OutOfDate;
import org.slabnote.worker.process.DescribeProcess;
import org.slabnote.worker.process.TemporaryFolder;
import org.slabnote.worker.process.WorkerProcess;
import org.slabnote.worker.store.ValueReader;

/**
 * Everything that can be done with a job folder: check it, run it, recheck it, read its record.
 *
 * <p>Every run reads all files anew, replays all cells from the first to the last in a fresh process,
 * and computes what was not computed before: there is no hidden state. One run at a time; {@link
 * #cancel} may come from another thread. {@link BadInput} tells what somebody can put right, {@link
 * Fault} what only we can, {@link RunCancelled} that the run was cancelled.
 *
 * @since 0.1
 */
public final class JobRunner implements AutoCloseable {
  private static final Pattern MISSING =
      Pattern.compile("cannot find symbol: (?:class|variable) (\\w+)");

  private final Path folder;
  private final Path cache;
  private final Toolbox toolbox;
  private final Computation computation;
  private final ScanDigests digests = new ScanDigests();
  private final RememberedCells cells;
  private final PluginShelf shelf;
  private final Standings standings;
  private final HostWork host = new HostWork();

  JobRunner(Path folder, Path cache, Toolbox toolbox, Computation computation) {
    this.folder = folder.toAbsolutePath().normalize();
    this.cache = cache.toAbsolutePath().normalize();
    this.toolbox = toolbox;
    this.computation = computation;
    this.cells = new RememberedCells(this.cache);
    List<String> path = toolbox.classPath().stream()
        .map(entry -> entry.toAbsolutePath().toString())
        .toList();
    this.shelf = new PluginShelf(this.cache, new DescribeProcess(path), Toolbox.ownVersion());
    standings =
        new Standings(this.cache, this.folder, toolbox, job -> prepare(job).compiled());
  }

  /** A runner that remembers steps in the user's cache folder and uses all processors. */
  public static JobRunner of(Path folder) {
    return of(folder, CacheFolder.ofUser(), Runtime.getRuntime().availableProcessors());
  }

  /**
   * A runner.
   *
   * @param folder the job folder
   * @param cache where finished steps and compiled cells are remembered; made where it is missing
   * @param threads how many threads may compute; results do not depend on it
   */
  public static JobRunner of(Path folder, Path cache, int threads) {
    Toolbox toolbox = Toolbox.find();
    WorkerComputation worker = new WorkerComputation(
        threads,
        new WorkerProcess(),
        (store, sha256) -> new ValueReader(store, Toolbox.class.getClassLoader()).byDigest(sha256),
        cache);
    return new JobRunner(folder, cache, toolbox, worker);
  }

  /** The plugins of third parties that the job pins, to add to or take from. */
  public PluginPins plugins() {
    return new PluginPins(folder, shelf, toolbox.taken());
  }

  /** The job folder. */
  public Path folder() {
    return folder;
  }

  /**
   * What is wrong with the job as it stands, with the notebook's text as given: files, blocks, cells
   * that do not compile or may not run. Nothing runs. Empty when it may be run.
   */
  public List<Problem> check(String notebookText) {
    try {
      prepare(Job.open(folder, notebookText, digests));
      return List.of();
    } catch (BadInput bad) {
      return bad.problems();
    }
  }

  /** Runs the job and writes its record. */
  public Outcome run(RunListener listener) throws BadInput {
    Outcome outcome = compute(listener);
    outcome.record().write(folder);
    standings.recorded();
    return outcome;
  }

  /** Runs the job and writes nothing. */
  public Outcome compute(RunListener listener) throws BadInput {
    begin();
    listener.stage("reading the job");
    return compute(host.call(() -> Job.open(folder, digests)), cache, List.of(), true, listener);
  }

  /**
   * Runs the job with the notebook's text as given, perhaps not saved yet, and writes nothing.
   *
   * @param more addresses of steps to compute beyond what the notebook demands, for figures
   */
  public Outcome compute(String notebookText, Collection<String> more, RunListener listener)
      throws BadInput {
    begin();
    listener.stage("reading the job");
    return compute(
        host.call(() -> Job.open(folder, notebookText, digests)), cache, more, true, listener);
  }

  /**
   * The values behind the record, from what is remembered where it is. For reports and figures.
   *
   * @throws BadInput if there is no record, or it is not what the job as it stands gives
   */
  public Outcome recorded(RunListener listener) throws BadInput {
    RecordReader reader = record();
    Outcome outcome = compute(listener);
    Optional<String> difference = Recheck.firstDifference(reader.files(), outcome.record());
    if (difference.isPresent()) {
      throw new BadInput(new Problem(
          Problem.Kind.RECORD,
          Job.RECORD,
          0,
          "",
          "the record is not what the job gives now. " + difference.get() + ". Run the job again"));
    }
    return outcome.withAllValues();
  }

  /**
   * The record, once it is sure that it tells of the job as it stands.
   *
   * @throws BadInput if there is none, it was changed, or the job changed since it was written
   */
  public RecordReader record() throws BadInput {
    RecordReader reader = RecordReader.open(folder);
    reader.requireMatch(Job.open(folder, digests));
    return reader;
  }

  /**
   * Runs the job from its scans, remembering nothing from before, and compares with the record. Touches
   * nothing in the job folder.
   *
   * @return the first difference in words; empty when both files are the same byte for byte
   * @throws BadInput if there is no record or the job cannot be run
   */
  public Optional<String> recheck(RunListener listener) throws BadInput {
    RecordFiles before = RecordReader.open(folder).files();
    begin();
    listener.stage("reading the job");
    Job job = host.call(() -> Job.open(folder)); // digests every scan anew
    try (TemporaryFolder empty = TemporaryFolder.make()) {
      return Recheck.firstDifference(
          before, compute(job, empty.path(), List.of(), false, listener).record());
    } catch (IOException e) {
      throw new Fault("no temporary folder can be made. Make room in the temporary folder", e);
    }
  }

  /** Stops the run under way, which then throws {@link RunCancelled}; without one, does nothing. */
  public void cancel() {
    host.cancel();
    computation.cancel();
  }

  /**
   * Gets ready for the next edit, in the background: for a front end that keeps the job open. Returns
   * at once. It computes nothing and tells nothing; what is not ready when it is needed is made then.
   *
   * @param notebookText the notebook's text as it stands
   */
  public void makeReady(String notebookText) {
    Thread thread = new Thread(() -> compileAhead(notebookText), "make-ready");
    thread.setDaemon(true);
    thread.setPriority(Thread.MIN_PRIORITY);
    thread.start();
  }

  private void compileAhead(String notebookText) {
    try {
      startWorkerAhead();
      Job job = Job.open(folder, notebookText, digests);
      cells.makeReady(toolbox.with(job, shelf), job.notebook());
    } catch (BadInput e) {
      return; // told when it is run
    }
  }

  /** Ends what was made ready: a worker that waits, the compiler. A run that is going on goes on. */
  @Override
  public void close() {
    computation.close();
    // A compiler ends when it is at rest; nobody waits for that.
    Thread thread = new Thread(cells::close, "compiler-away");
    thread.setDaemon(true);
    thread.start();
  }

  private void begin() {
    host.begin();
    computation.begin();
    startWorkerAhead();
  }

  /** A worker takes its time to start: it does so while the job is read and compiled. */
  private void startWorkerAhead() {
    try {
      computation.prepare(toolbox.classPath(), Limits.of(Job.sheet(folder)));
    } catch (BadInput e) {
      return; // told when the job is read
    }
  }

  /**
   * What is out of date since the last complete run of this job, by this process or one before it, the
   * notebook's text being as given: which cells and steps, and why. Nothing runs; cells that were
   * edited are compiled. Empty where no complete run is known.
   *
   * @throws BadInput if a file of the job cannot be read
   */
  public Optional<OutOfDate> outOfDate(String notebookText) throws BadInput {
    return standings.outOfDate(Job.open(folder, notebookText, digests));
  }

  /** Why the last complete run of this session computed what it did not remember, by cell, in order. */
  public List<OutOfDate.Stale> why() {
    return standings.why();
  }

  /**
   * How the record stands to the job as its files say it now. Nothing runs.
   *
   * @throws BadInput if a file of the job cannot be read, or the record was damaged
   */
  public Standing standing() throws BadInput {
    return standings.standing(Job.open(folder, digests));
  }

  private Outcome compute(
      Job job, Path remembered, Collection<String> more, boolean traced, RunListener listener)
      throws BadInput {
    job.notebook().cells().forEach(cell -> listener.cell(cell.name(), CellState.WAITS));
    try {
      listener.stage("compiling the cells");
      Prepared prepared = host.call(() -> prepare(job));
      host.goOn();
      CompletableFuture<Marks> marks = standings.expect(job);
      listener.stage("computing");
      Computed computed = computed(prepared, remembered.resolve("store"), more, listener);
      host.goOn();
      host.call(() -> unchanged(job));
      RecordFiles record = RecordFiles.of(computed.facts(), computed.fingerprints());
      if (traced) {
        standings.completed(prepared, computed, marks.join(), record.record());
        listener.why(standings.why());
      }
      List<Problem> warnings = new ArrayList<>(prepared.toolbox().problems());
      warnings.addAll(computed.remarks());
      return new Outcome(computed.facts(), record, computed.values(), warnings);
    } catch (BadInput bad) {
      tellStopped(job, bad, listener);
      throw bad;
    }
  }

  private Computed computed(
      Prepared prepared, Path store, Collection<String> more, RunListener listener)
      throws BadInput {
    try {
      return computation.compute(prepared, store, more, listener);
    } catch (BadInput bad) {
      throw new BadInput(SetAside.explain(bad.problems(), prepared.toolbox().jobTools()));
    }
  }

  private Prepared prepare(Job job) throws BadInput {
    Limits limits = Limits.of(job.sheet());
    Toolbox tools = toolbox.with(job, shelf);
    Gate gate = new Gate(tools.cellPath(), tools.exportedPackages());
    Compiled compiled;
    try {
      compiled = cells.compile(tools, job.notebook());
    } catch (BadInput bad) {
      throw new BadInput(standings.withFormerDefinitions(
          SetAside.explain(withRefusals(bad.problems(), gate), tools.jobTools()), job));
    }
    gate.check(compiled, job.notebook());
    return new Prepared(job, compiled, limits, tools);
  }

  /** A name that does not compile because it stands for a file or the clock is told as refused. */
  private static List<Problem> withRefusals(List<Problem> problems, Gate gate) {
    Set<Problem> told = new LinkedHashSet<>();
    for (Problem one : problems) {
      Matcher missing = MISSING.matcher(one.message());
      Optional<String> refusal =
          missing.matches() ? gate.refusalOf(missing.group(1)) : Optional.empty();
      boolean alike = refusal.isPresent()
          && told.stream()
              .anyMatch(
                  before -> before.kind() == Problem.Kind.REFUSED && before.line() == one.line());
      if (!alike) {
        told.add(refusal
            .map(words ->
                new Problem(Problem.Kind.REFUSED, one.file(), one.line(), one.cell(), words))
            .orElse(one));
      }
    }
    return List.copyOf(told);
  }

  private static void tellStopped(Job job, BadInput bad, RunListener listener) {
    for (Block.Cell cell : job.notebook().cells()) {
      Optional<Problem> own = bad.problems().stream()
          .filter(problem -> problem.cell().equals(cell.name()))
          .findFirst();
      listener.cell(
          cell.name(),
          own.map(problem -> CellState.stopped(problem.message())).orElse(CellState.LEFT));
    }
  }

  /** A file that changes while the job runs must not leave a record of something between. */
  private Job unchanged(Job before) throws BadInput {
    Job now = Job.open(folder, before.notebook().text(), digests);
    if (!now.digests().equals(before.digests())
        || !now.scans().equals(before.scans())
        || !now.plugins().equals(before.plugins())) {
      throw new BadInput(new Problem(
          Problem.Kind.FILE,
          folder.getFileName().toString(),
          0,
          "",
          "a file of the job changed while it ran, so nothing was written. Run it again"));
    }
    return now;
  }
}
