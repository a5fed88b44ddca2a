package org.slabnote.worker.run;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import org.jspecify.annotations.Nullable;
import org.slabnote.api.ScanFileException;
import org.slabnote.api.SurveyRow;
import org.slabnote.worker.PluginJars;
import org.slabnote.worker.RunListener;
import org.slabnote.worker.RunOutcome;
import org.slabnote.worker.RunOutcome.Failure;
import org.slabnote.worker.RunOutcome.Failure.Kind;
import org.slabnote.worker.RunOutcome.ScanFact;
import org.slabnote.worker.RunRequest;
import org.slabnote.worker.Tape;
import org.slabnote.worker.Trail;
import org.slabnote.worker.store.Store;
import org.slabnote.worker.store.StoreLimit;

/** One run: replays on a thread of its own, while the calling thread watches the time. */
final class Run {
  private static final long STACK_BYTES = 16L << 20;
  private static final long GRACE_MILLIS = 150;
  private static final long CANCEL_MILLIS = 80;

  private final RunRequest request;
  private final ClassLoader loader;
  private final RunControl control;
  private final CountDownLatch over = new CountDownLatch(1);
  private final CountDownLatch overOrStopped = new CountDownLatch(1);
  private volatile @Nullable RunOutcome outcome;
  private volatile boolean whole;
  private volatile @Nullable Replay replay;
  private volatile @Nullable Scheduler scheduler;
  private volatile @Nullable Blame blame;
  /** Where the run was when its time was over; read and written by the watching thread alone. */
  private Place atTheLimit = Place.NONE;
  /** What ran there, where it is of a third party; read and written by the watching thread alone. */
  private String atWork = "this";

  Run(RunRequest request, ClassLoader loader, RunControl control) {
    this.request = request;
    this.loader = loader;
    this.control = control;
  }

  void cancel() {
    control.stop(RunControl.Reason.CANCELLED);
  }

  /** Runs, and returns the outcome when it is there, or the time is over, or it was cancelled. */
  RunOutcome watch() {
    Thread thread = new Thread(null, this::run, "replay", STACK_BYTES);
    thread.setDaemon(true);
    thread.start();
    try {
      control.onStop(overOrStopped::countDown);
      if (!overOrStopped.await(request.limits().seconds(), TimeUnit.SECONDS)) {
        // Before the stop: a step that heeds it may be gone by the next line.
        atTheLimit = busy(thread);
        control.stop(RunControl.Reason.TIME);
      }
      if (control.stopped()) {
        return afterStop(thread);
      }
    } catch (InterruptedException e) {
      cancel();
      Thread.currentThread().interrupt();
    }
    RunOutcome now = outcome;
    return now != null ? now : RunOutcome.failed(stop(thread));
  }

  /** Gives the run a moment to stop by itself; then says where it hangs and leaves it. */
  private RunOutcome afterStop(Thread thread) throws InterruptedException {
    Failure failure = stop(thread);
    boolean cancelled = control.reason() == RunControl.Reason.CANCELLED;
    over.await(cancelled ? CANCEL_MILLIS : GRACE_MILLIS, TimeUnit.MILLISECONDS);
    RunOutcome now = outcome;
    if (now == null) {
      return RunOutcome.failed(failure);
    }
    if (whole) {
      return now; // it came to its end in that moment
    }
    List<Failure> failures = new ArrayList<>();
    if (control.reason() != RunControl.Reason.MEMORY) {
      failures.add(failure);
    }
    failures.addAll(now.failures());
    return new RunOutcome(
        now.plugins(),
        now.setAside(),
        now.scans(),
        now.cells(),
        now.steps(),
        now.demands(),
        now.values(),
        now.bases(),
        failures,
        Trail.NONE);
  }

  private Failure stop(Thread thread) {
    Place place = atTheLimit.cell().isEmpty() ? busy(thread) : atTheLimit;
    if (control.reason() == RunControl.Reason.TIME) {
      String what = place.cell().isEmpty() && atWork.equals("this") ? "the run" : atWork;
      return failure(
          Kind.TIME,
          place,
          what + " has not ended after " + request.limits().seconds()
              + " s, the limit of the run. Make it do less, or set a higher limit");
    }
    if (control.reason() == RunControl.Reason.MEMORY) {
      return failure(Kind.MEMORY, place, Blame.memoryIsFull(request.limits().megabytes()));
    }
    return failure(Kind.CANCELLED, place, "cancelled");
  }

  /** Returns the place of what the run is at: the statement that runs, or the first step on its way. */
  private Place busy(Thread thread) {
    Scheduler steps = scheduler;
    List<Node<?>> onTheWay = steps == null ? List.of() : steps.onTheWay();
    if (!onTheWay.isEmpty()) {
      Node<?> first = onTheWay.stream()
          .min(Comparator.comparingInt((Node<?> node) -> node.index))
          .orElseThrow();
      atWork = PluginJars.of(request.plugins(), Keys.title(first))
          .map(plugin ->
              "step " + first.named() + ": " + Keys.title(first) + " of " + plugin.title())
          .orElse("this");
      return first.statement.place();
    }
    Replay now = replay;
    Blame places = blame;
    StackTraceElement[] trace = thread.getStackTrace();
    atWork =
        PluginFrames.atWork(trace, request.plugins()).map(PluginJars::title).orElse(atWork);
    if (now == null || places == null) {
      return Place.NONE;
    }
    return now.current().map(snippet -> places.there(snippet, thread)).orElse(Place.NONE);
  }

  private static Failure failure(Kind kind, Place place, String message) {
    return new Failure(kind, place.cell(), place.line(), place.snippet(), "", "", message);
  }

  private void run() {
    try {
      outcome = replayAndCompute();
    } catch (Plugins.Clash e) {
      outcome = RunOutcome.failed(failure(Kind.PLUGIN, Place.NONE, String.valueOf(e.getMessage())));
    } catch (OutOfMemoryError e) {
      control.stop(RunControl.Reason.MEMORY);
      outcome = RunOutcome.failed(
          failure(Kind.MEMORY, Place.NONE, Blame.memoryIsFull(request.limits().megabytes())));
    } catch (Throwable e) { // ours: nothing else gets here
      outcome = RunOutcome.failed(failure(Kind.FAULT, Place.NONE, Faults.words(e)));
    } finally {
      over.countDown();
      overOrStopped.countDown();
    }
  }

  private RunOutcome replayAndCompute() throws IOException {
    try (Plugins plugins = Plugins.load(loader, request.plugins())) {
      return replayAndCompute(plugins);
    }
  }

  private RunOutcome replayAndCompute(Plugins plugins) throws IOException {
    Tape tape = request.tape();
    Implementations implementations = new Implementations();
    TapeLoader cells = new TapeLoader(tape, loader, plugins.exported());
    control.onStop(() -> cells.stop(new RunStopped()));
    Blame placed = new Blame(tape, cells, request.limits().megabytes(), request.plugins());
    blame = placed;
    ScanFiles scans = new ScanFiles(request.scans(), plugins);
    ThirdPartySteps others = new ThirdPartySteps(plugins, cells, scans, control);
    List<ScanFact> recognised = recognise(scans);
    Replay now = new Replay(tape, cells, placed, control);
    Graph graph = new Graph(
        new Statements(plugins, implementations, cells),
        request.survey().rows(),
        now::here,
        now::statement);
    Demands demands = new Demands();
    List<Node<?>> more = new ArrayList<>();
    Path folder = Path.of(request.store());
    Store store = Store.at(folder);
    try (StepMemory memory = new StepMemory(store, control, StoreLimit.of(folder))) {
      StepRunner runner = new StepRunner(store, memory, scans, others, control, placed);
      Keys keys = new Keys(scans, implementations);
      try (Scheduler steps =
          new Scheduler(graph, keys, runner, control, request.limits().threads())) {
        scheduler = steps;
        graph.computesBy(node -> {
          demands.got(now.here(), now.statement(), node);
          node.demanded = true;
          return steps.get(node);
        });
        replay = now;
        if (!control.hasFailed()) {
          replayThenCompute(graph, demands, more, steps, now);
        }
        if (whole && !control.hasFailed()) {
          recognised = remarked(recognised, graph, demands, runner);
        }
      }
    }
    others.tellThreads();
    if (!whole && control.stopped()) {
      return RunOutcome.failed(control.failures()); // nobody waits for more
    }
    return new Outcomes(tape, graph, demands, now, more)
        .outcome(plugins, implementations, recognised, control);
  }

  private List<ScanFact> recognise(ScanFiles scans) {
    List<ScanFact> facts = new ArrayList<>();
    List<SurveyRow> rows = request.survey().rows();
    for (int i = 0; i < rows.size(); i++) {
      try {
        facts.add(scans.recognise(rows.get(i)));
      } catch (ScanFileException e) {
        control.failed(
            i, new Failure(Kind.SCAN, "", 0, "", "", e.file(), String.valueOf(e.getMessage())));
      } catch (PluginFault e) {
        control.failed(i, failure(Kind.PLUGIN, Place.NONE, String.valueOf(e.getMessage())));
      }
    }
    return facts;
  }

  /** Returns the facts with what the formats remark on the scans that something demanded needs. */
  private List<ScanFact> remarked(
      List<ScanFact> scans, Graph graph, Demands demands, StepRunner runner) {
    Map<String, List<String>> remarks = new HashMap<>();
    for (int i : Graph.upstream(graph.nodes(), demands.nodes())) {
      Node<?> node = graph.nodes().get(i);
      if (Graph.isScan(node)) {
        try {
          remarks.put(node.named(), runner.remarks(node));
        } catch (ScanFileException e) {
          control.failed(
              i, new Failure(Kind.SCAN, "", 0, "", "", e.file(), String.valueOf(e.getMessage())));
        } catch (PluginFault e) {
          control.failed(i, failure(Kind.PLUGIN, Place.NONE, String.valueOf(e.getMessage())));
        }
      }
    }
    List<ScanFact> facts = new ArrayList<>();
    for (ScanFact scan : scans) {
      facts.add(new ScanFact(
          scan.address(),
          scan.file(),
          scan.format(),
          scan.revision(),
          remarks.getOrDefault(scan.address(), List.of())));
    }
    return facts;
  }

  private void replayThenCompute(
      Graph graph, Demands demands, List<Node<?>> more, Scheduler steps, Replay now) {
    try {
      now.run(graph, new CellSession(request, graph, demands, now::here, now::statement));
      for (String address : request.more()) {
        graph
            .at(address)
            .ifPresentOrElse(
                more::add,
                () -> control.tell(
                    l -> l.message("no step " + address + " any more; it is left out")));
      }
      TreeMap<Integer, Node<?>> wanted = new TreeMap<>();
      demands.nodes().forEach(node -> wanted.put(node.index, node));
      more.forEach(node -> wanted.put(node.index, node));
      wanted.values().forEach(node -> node.demanded = true);
      steps.compute(wanted.values());
      steps.awaitDigests();
      whole = true;
      tellDone();
    } catch (RunStopped e) {
      return; // what failed is noted; a stop is told by who watches
    }
  }

  private void tellDone() {
    List<String> failed = control.failures().stream().map(Failure::cell).toList();
    for (Tape.Cell cell : request.tape().cells()) {
      if (!failed.contains(cell.name())) {
        control.tell(l -> l.cell(cell.name(), RunListener.CellState.DONE));
      }
    }
  }
}
