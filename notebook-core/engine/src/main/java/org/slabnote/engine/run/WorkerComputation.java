package org.slabnote.engine.run;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;
import org.slabnote.api.Table;
import org.slabnote.engine.compiler.Anatomy;
import org.slabnote.engine.document.Block;
import org.slabnote.engine.job.CsvBlock;
import org.slabnote.engine.job.Job;
import org.slabnote.engine.plugin.JobTools;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Fault;
import org.slabnote.engine.problem.Problem;
import org.slabnote.worker.RunOutcome;
import org.slabnote.worker.RunRequest;
import org.slabnote.worker.WorkerClient;

/** Has the worker process compute. */
final class WorkerComputation implements Computation {
  private final int threads;
  private final WorkerClient client;
  private final StoredValues.Reader stored;
  private final Path cache;
  private volatile boolean cancelled;
  private volatile @Nullable RunRequest last;

  /**
   * A computation.
   *
   * @param stored reads what the store keeps
   * @param cache where it is remembered how long steps took
   */
  WorkerComputation(int threads, WorkerClient client, StoredValues.Reader stored, Path cache) {
    this.cache = cache;
    this.threads = threads;
    this.client = client;
    this.stored = stored;
  }

  @Override
  public Computed compute(
      Prepared prepared, Path store, Collection<String> more, RunListener listener)
      throws BadInput {
    Anatomy anatomy = Anatomy.of(prepared.compiled());
    RunRequest request = request(prepared, anatomy, store, more);
    if (cancelled) {
      throw new RunCancelled();
    }
    Durations durations = Durations.in(cache);
    Hearing hearing = new Hearing(
        listener,
        this::cancelAgain,
        new Estimate(durations, threads),
        prepared.job().notebook().cells().size());
    RunOutcome outcome;
    try (Ticker ticker = new Ticker(hearing::tellOutlook)) {
      outcome = client.run(request, hearing);
    } finally {
      durations.keep();
    }
    if (!outcome.complete()) {
      throw refused(prepared.job(), outcome);
    }
    last = request;
    hearing.tellDone();
    Facts facts = new Facts(prepared, outcome);
    return new Computed(
        facts.facts(),
        facts.fingerprints(),
        new StoredValues(outcome.values(), store, stored),
        anatomy,
        outcome,
        hearing.computed(),
        hearing.remarks());
  }

  @Override
  public void begin() {
    cancelled = false;
  }

  @Override
  public void prepare(List<Path> classPath, Limits limits) {
    client.prepare(absolute(classPath), limits.memoryMb(), Optional.ofNullable(last));
  }

  @Override
  public void close() {
    client.close();
  }

  private static List<String> absolute(List<Path> paths) {
    return paths.stream().map(path -> path.toAbsolutePath().toString()).toList();
  }

  @Override
  public void cancel() {
    cancelled = true;
    client.cancel();
  }

  /** A cancel that came before the process was there. */
  private void cancelAgain() {
    if (cancelled) {
      client.cancel();
    }
  }

  private RunRequest request(
      Prepared prepared, Anatomy anatomy, Path store, Collection<String> more) throws BadInput {
    Job job = prepared.job();
    SortedMap<String, Table> blocks = new TreeMap<>();
    List<Problem> problems = new ArrayList<>();
    for (Block.Data data : job.notebook().data()) {
      try {
        blocks.put(data.name(), CsvBlock.parse(Job.NOTEBOOK, data));
      } catch (BadInput bad) {
        problems.addAll(bad.problems());
      }
    }
    if (!problems.isEmpty()) {
      throw new BadInput(problems);
    }
    List<RunRequest.ScanFile> scans = job.scans().values().stream()
        .map(scan -> new RunRequest.ScanFile(
            scan.name(), scan.path().toAbsolutePath().normalize().toString(), scan.sha256()))
        .toList();
    int seconds = (int) Math.min(Integer.MAX_VALUE, prepared.limits().time().toSeconds());
    return new RunRequest(
        Tapes.of(prepared.compiled(), anatomy, job.notebook()),
        job.survey(),
        job.sheet(),
        job.cuts(),
        blocks,
        scans,
        absolute(prepared.toolbox().classPath()),
        prepared.toolbox().others().stream().map(JobTools.Usable::jars).toList(),
        store.toAbsolutePath().toString(),
        List.copyOf(more),
        new RunRequest.Limits(threads, prepared.limits().memoryMb(), seconds));
  }

  /** What stopped the run: the job's fault as bad input, ours as a fault, or a cancel. */
  private static BadInput refused(Job job, RunOutcome outcome) {
    List<Problem> problems = new ArrayList<>();
    for (RunOutcome.Failure failure : outcome.failures()) {
      switch (failure.kind()) {
        case CANCELLED -> throw new RunCancelled();
        case FAULT -> throw new Fault(failure.text());
        case DIED -> {
          if (failure.cell().isEmpty()) {
            throw new Fault(failure.text());
          }
          problems.add(atStep(job, Problem.Kind.RUN, failure));
        }
        case SCAN -> problems.add(scan(failure));
        case PLUGIN -> problems.add(atStep(job, Problem.Kind.PLUGIN, failure));
        case TIME -> problems.add(limit(job, failure, "time_s"));
        case MEMORY -> problems.add(limit(job, failure, "memory_mb"));
        case EXCEPTION, STACK -> problems.add(problem(job, Problem.Kind.RUN, failure));
      }
    }
    return new BadInput(problems);
  }

  private static Problem problem(Job job, Problem.Kind kind, RunOutcome.Failure failure) {
    return new Problem(
        kind, job.notebook().file(), failure.line(), failure.cell(), failure.message());
  }

  /** Where it stands is told with the step, since the cell that stated it is not at fault. */
  private static Problem atStep(Job job, Problem.Kind kind, RunOutcome.Failure failure) {
    String step = failure.address().isEmpty() ? "" : "step " + failure.address() + ": ";
    return new Problem(
        kind, job.notebook().file(), failure.line(), failure.cell(), step + failure.message());
  }

  /** The worker says that a limit was reached; where it is set, only the job sheet's reader knows. */
  private static Problem limit(Job job, RunOutcome.Failure failure, String key) {
    return new Problem(
        Problem.Kind.RUN,
        job.notebook().file(),
        failure.line(),
        failure.cell(),
        failure.message() + ": " + key + " under [limits] in " + Job.SHEET);
  }

  /** A reader begins its message with the file, as the survey table names it. */
  private static Problem scan(RunOutcome.Failure failure) {
    String start = failure.file() + ": ";
    String message = failure.message();
    String file = Job.SCANS + "/" + failure.file();
    if (message.startsWith(start)) {
      message = message.substring(start.length());
    } else if (message.startsWith(failure.file() + ", ")) {
      int colon = message.indexOf(": ");
      if (colon > 0) {
        file = Job.SCANS + "/" + message.substring(0, colon);
        message = message.substring(colon + 2);
      }
    }
    return new Problem(Problem.Kind.FILE, file, 0, "", message);
  }
}
