package org.slabnote.worker.run;

import java.io.IOException;
import java.util.Optional;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import org.slabnote.api.CancelledException;
import org.slabnote.api.Filter;
import org.slabnote.api.Operation;
import org.slabnote.api.Operations;
import org.slabnote.api.SurveyRow;
import org.slabnote.api.codec.Canonical;
import org.slabnote.worker.store.Store;

/** Computes or loads the value of one step, and remembers it off the critical path. */
final class StepRunner implements AutoCloseable {
  /** Steps slower than this are remembered though nobody demanded them. */
  private static final long SLOW_NANOS = 20_000_000;

  private final Store store;
  private final ScanFiles scans;
  private final ClassLoader types;
  private final RunControl control;
  private final Blame blame;
  private final AtomicBoolean storeTold = new AtomicBoolean();
  private final ExecutorService writer = Executors.newSingleThreadExecutor(task -> {
    Thread thread = new Thread(task, "store");
    thread.setDaemon(true);
    return thread;
  });

  StepRunner(Store store, ScanFiles scans, ClassLoader types, RunControl control, Blame blame) {
    this.store = store;
    this.scans = scans;
    this.types = types;
    this.control = control;
    this.blame = blame;
  }

  boolean isRemembered(Node<?> node) {
    return store.has(node.key);
  }

  /** Loads a remembered value; nothing where it is damaged or of a type that is gone. */
  Optional<Object> load(Node<?> node) {
    Optional<String> digest = store.digestOf(node.key);
    Optional<byte[]> bytes = digest.flatMap(store::bytes);
    if (bytes.isEmpty()) {
      return Optional.empty();
    }
    Object value;
    try {
      value = Canonical.decode(bytes.get(), types);
    } catch (IllegalArgumentException e) {
      return Optional.empty();
    }
    if (node.demanded) {
      node.fact = ValueFacts.of(value, digest.get(), bytes.get().length);
    }
    control.tell(l -> l.stepRemembered(node.named()));
    return Optional.of(value);
  }

  Object compute(Node<?> node, StepWork.Helpers helpers) {
    control.tell(l -> l.stepStarted(node.named(), Keys.title(node)));
    long start = System.nanoTime();
    StepWork work = new StepWork(node, control, helpers);
    Object value = apply(node, work);
    long nanos = System.nanoTime() - start;
    if (node.demanded) {
      byte[] bytes = Canonical.encode(value);
      String digest = Canonical.sha256(bytes);
      node.fact = ValueFacts.of(value, digest, bytes.length);
      writer.execute(() -> put(node.key, digest, bytes));
    } else if (nanos > SLOW_NANOS && !Graph.isScan(node)) {
      writer.execute(() -> remember(node.key, value));
    }
    control.tell(l -> l.stepFinished(node.named(), nanos / 1e9));
    return value;
  }

  @SuppressWarnings({"unchecked", "rawtypes"})
  private Object apply(Node<?> node, StepWork work) {
    Object body = node.statement.body();
    Object value = switch (node.statement.kind()) {
      case SCAN -> scans.read((SurveyRow) body);
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

  private void remember(String key, Object value) {
    byte[] bytes;
    try {
      bytes = Canonical.encode(value);
    } catch (IllegalArgumentException e) {
      return; // has no encoding: told when it is demanded
    }
    put(key, Canonical.sha256(bytes), bytes);
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
    if (thrown instanceof CancelledException && control.stopped()) {
      return;
    }
    control.failed(node.index, blame.ofStep(node, thrown));
    if (thrown instanceof OutOfMemoryError) {
      control.stop(RunControl.Reason.MEMORY);
    }
  }

  /** Waits until all is written; a run that was stopped writes no more. */
  @Override
  public void close() {
    if (control.stopped()) {
      writer.shutdownNow();
      return;
    }
    writer.shutdown();
    try {
      if (!writer.awaitTermination(2, TimeUnit.MINUTES)) {
        writer.shutdownNow();
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}
