package org.slabnote.worker.run;

import java.io.IOException;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import org.slabnote.api.Filter;
import org.slabnote.api.Operation;
import org.slabnote.api.Operations;
import org.slabnote.api.Scan;
import org.slabnote.api.SurveyRow;
import org.slabnote.api.codec.Canonical;
import org.slabnote.worker.RunOutcome.ValueFact;
import org.slabnote.worker.store.Store;

/** Computes or loads the value of one step, and remembers it off the critical path. */
final class StepRunner implements AutoCloseable {
  /** Steps slower than this are remembered though nobody demanded them, however large. */
  private static final long SLOW_NANOS = 20_000_000;

  /** Values up to this size are remembered however quick they were: an edit then reaches no more. */
  private static final long SMALL_BYTES = 256 * 1024;

  /** Quick values that may wait to be written: more would fill the heap. */
  private static final int WAITING = 256;

  /** How long a run that was stopped may write what it has finished. */
  private static final long MOMENT_MILLIS = 60;

  private final Store store;
  private final ScanFiles scans;
  private final ThirdPartySteps others;
  private final RunControl control;
  private final Blame blame;
  private final Map<Integer, List<String>> remarks = new ConcurrentHashMap<>();
  private final Semaphore quick = new Semaphore(WAITING);
  private final AtomicBoolean storeTold = new AtomicBoolean();
  private final ExecutorService writer = Executors.newSingleThreadExecutor(task -> {
    Thread thread = new Thread(task, "store");
    thread.setDaemon(true);
    return thread;
  });

  StepRunner(
      Store store, ScanFiles scans, ThirdPartySteps others, RunControl control, Blame blame) {
    this.store = store;
    this.scans = scans;
    this.others = others;
    this.control = control;
    this.blame = blame;
  }

  boolean isRemembered(Node<?> node) {
    return store.has(node.key);
  }

  /**
   * Loads what is told of a remembered value, without the value: enough where nothing computes with
   * it. A value too large to be told is verified, since whoever hears of it will read it.
   *
   * @return whether it was there, whole
   */
  boolean loadFact(Node<?> node) {
    Optional<Object> read = store
        .digestOf(factKey(node))
        .flatMap(store::bytes)
        .flatMap(bytes -> decoded(bytes, StepRunner.class.getClassLoader()));
    if (read.isEmpty() || !(read.get() instanceof ValueFact fact)) {
      return false;
    }
    boolean same = store.digestOf(node.key).filter(fact.sha256()::equals).isPresent();
    if (!same || fact.value().isEmpty() && store.bytes(fact.sha256()).isEmpty()) {
      return false;
    }
    node.fact = fact;
    return true;
  }

  void tellRemembered(Node<?> node) {
    control.tell(l -> l.stepRemembered(node.named()));
  }

  private static String factKey(Node<?> node) {
    return Canonical.digest(List.of("what is told of", node.key));
  }

  private static Optional<Object> decoded(byte[] bytes, ClassLoader types) {
    try {
      return Optional.of(Canonical.decode(bytes, types));
    } catch (IllegalArgumentException e) {
      return Optional.empty(); // damaged, or of a type that is gone
    }
  }

  /** Returns what the format remarks on a scan that the run needed. */
  List<String> remarks(Node<?> scan) {
    String key = Canonical.digest(List.of("remarks on", scan.key));
    List<String> heard = remarks.get(scan.index);
    if (heard != null) {
      writer.execute(() -> remember(key, heard));
      return heard;
    }
    Optional<Object> kept = store
        .digestOf(key)
        .flatMap(store::bytes)
        .flatMap(bytes -> decoded(bytes, StepRunner.class.getClassLoader()));
    if (kept.isPresent() && kept.get() instanceof List<?> list) {
      return list.stream().map(String::valueOf).toList();
    }
    List<String> made = scans.remarks((SurveyRow) scan.statement.body());
    writer.execute(() -> remember(key, made));
    return made;
  }

  /** Loads a remembered value; nothing where it is damaged or of a type that is gone. */
  Optional<Object> load(Node<?> node) {
    Optional<String> digest = store.digestOf(node.key);
    Optional<byte[]> bytes = digest.flatMap(store::bytes);
    if (bytes.isEmpty()) {
      return Optional.empty();
    }
    Optional<Object> value = decoded(bytes.get(), others.types(node));
    if (value.isPresent()) {
      if (node.demanded && node.fact == null) {
        tell(node, ValueFacts.of(value.get(), digest.get(), bytes.get().length));
      }
      tellRemembered(node);
    }
    return value;
  }

  Object compute(Node<?> node, StepWork.Helpers helpers) {
    Place place = node.statement.place();
    control.tell(l -> {
      l.at(node.named(), place.cell(), place.line());
      l.stepStarted(node.named(), Keys.title(node));
    });
    long start = System.nanoTime();
    Optional<Plugins.Loaded> plugin = others.of(node);
    Object value = plugin.isPresent()
        ? applyApart(node, plugin.get(), helpers)
        : apply(node, new StepWork(node, control, helpers, false));
    control.check(); // a value made while the stop was swallowed is none
    long nanos = System.nanoTime() - start;
    if (node.demanded) {
      byte[] bytes = Canonical.encode(value);
      String digest = Canonical.sha256(bytes);
      writer.execute(() -> {
        if (plugin.isEmpty()) {
          tellIfOther(node, digest);
        }
        put(node.key, digest, bytes);
      });
      tell(node, ValueFacts.of(value, digest, bytes.length));
    } else if (!Graph.isScan(node)) {
      boolean slow = nanos > SLOW_NANOS;
      if (slow) {
        writer.execute(() -> remember(node.key, value));
      } else if (!isLargeScan(value) && quick.tryAcquire()) {
        writer.execute(() -> {
          quick.release();
          remember(node.key, value, SMALL_BYTES);
        });
      }
    }
    control.tell(l -> l.stepFinished(node.named(), nanos / 1e9));
    return value;
  }

  /** A value that was remembered and is gone leaves its digest: computed again, it must be the same. */
  private void tellIfOther(Node<?> node, String now) {
    store
        .digestOf(node.key)
        .filter(before -> !before.equals(now))
        .ifPresent(
            before -> control.tell(l -> l.message("step " + node.named() + ": " + Keys.title(node)
                + " answers differently than in an earlier run: from the same inputs it gave a value of "
                + "SHA-256 " + before + ", now one of " + now
                + ". The record has the value of now; please report it with this text")));
  }

  private void tell(Node<?> node, ValueFact fact) {
    node.fact = fact;
    writer.execute(() -> remember(factKey(node), fact));
  }

  private Object applyApart(Node<?> node, Plugins.Loaded plugin, StepWork.Helpers helpers) {
    ThirdPartySteps.Result result = others.apply(node, plugin, helpers);
    Optional<String> before = store.digestOf(node.key);
    String now = Canonical.sha256(result.bytes());
    if (before.isPresent() && !before.get().equals(now)) {
      throw new PluginFault(
          "it answers differently than in an earlier run: from the same inputs it "
              + "gave a value of SHA-256 " + before.get() + ", now one of " + now);
    }
    if (Graph.isScan(node)) {
      remarks.put(node.index, result.remarks());
    }
    try {
      return Canonical.decode(result.bytes(), others.types(node));
    } catch (IllegalArgumentException e) {
      throw new PluginFault(
          "what it gives cannot be made again from its encoding: " + e.getMessage(), e);
    }
  }

  @SuppressWarnings({"unchecked", "rawtypes"})
  private Object apply(Node<?> node, StepWork work) {
    Object body = node.statement.body();
    Object value = switch (node.statement.kind()) {
      case SCAN -> {
        ScanFiles.Read read = scans.read((SurveyRow) body);
        remarks.put(node.index, read.remarks());
        yield read.scan();
      }
      case FILTER -> {
        Node<?> input = node.statement.inputs().get(0).nodes().get(0);
        yield Operations.apply((Filter) body, input.get(), work);
      }
      case OPERATION -> Operations.apply((Operation<?>) body, work);
    };
    if (value == null) {
      throw new IllegalStateException("gives null; expected a value");
    }
    return value;
  }

  private static boolean isLargeScan(Object value) {
    return value instanceof Scan scan && 4L * scan.samples().size() > SMALL_BYTES;
  }

  private void remember(String key, Object value) {
    remember(key, value, Long.MAX_VALUE);
  }

  private void remember(String key, Object value, long most) {
    byte[] bytes;
    try {
      bytes = Canonical.encode(value);
    } catch (IllegalArgumentException e) {
      return; // has no encoding: told when it is demanded
    }
    if (bytes.length <= most) {
      put(key, Canonical.sha256(bytes), bytes);
    }
  }

  private void put(String key, String digest, byte[] bytes) {
    try {
      store.put(key, digest, bytes);
    } catch (IOException e) {
      if (!storeTold.getAndSet(true)) {
        control.tell(l -> l.message("steps are not remembered: " + e
            + ". The run goes on; the next will compute them again"));
      }
    }
  }

  /** Notes what a step threw, unless the run was stopped. */
  void failed(Node<?> node, Throwable thrown) {
    if (control.stopped()) {
      return; // it comes of the stop
    }
    control.failed(node.index, blame.ofStep(node, thrown));
    if (thrown instanceof OutOfMemoryError) {
      control.stop(RunControl.Reason.MEMORY);
    }
  }

  /** Waits until all is written; a run that was stopped has a moment for it. */
  @Override
  public void close() {
    writer.shutdown();
    try {
      long millis = control.stopped() ? MOMENT_MILLIS : TimeUnit.MINUTES.toMillis(2);
      if (!writer.awaitTermination(millis, TimeUnit.MILLISECONDS)) {
        writer.shutdownNow();
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}
