package org.slabnote.worker.run;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import org.slabnote.api.Filter;
import org.slabnote.api.Operation;
import org.slabnote.api.Operations;
import org.slabnote.api.SurveyRow;
import org.slabnote.api.codec.Canonical;
import org.slabnote.worker.RunOutcome.ValueFact;
import org.slabnote.worker.store.Store;

/** Computes or loads the value of one step, and has it remembered. */
final class StepRunner {
  /** Steps slower than this are remembered though nobody demanded them, however large. */
  private static final long SLOW_NANOS = 20_000_000;

  private final Store store;
  private final StepMemory memory;
  private final ScanFiles scans;
  private final ThirdPartySteps others;
  private final RunControl control;
  private final Blame blame;
  private final Map<Integer, List<String>> remarks = new ConcurrentHashMap<>();

  StepRunner(
      Store store,
      StepMemory memory,
      ScanFiles scans,
      ThirdPartySteps others,
      RunControl control,
      Blame blame) {
    this.store = store;
    this.memory = memory;
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
    asStated(node);
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
      memory.small(key, heard);
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
    memory.small(key, made);
    return made;
  }

  /** Loads a remembered value; nothing where it is damaged or of a type that is gone. */
  Optional<Object> load(Node<?> node) {
    asStated(node);
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
    asStated(node);
    long start = System.nanoTime();
    Optional<Plugins.Loaded> plugin = others.of(node);
    Object value = plugin.isPresent()
        ? applyApart(node, plugin.get(), helpers)
        : apply(node, new StepWork(node, control, helpers, false));
    control.check(); // a value made while the stop was swallowed is none
    long nanos = System.nanoTime() - start;
    asStated(node);
    if (node.demanded) {
      digest(node, value, true);
    } else if (!Graph.isScan(node)) {
      if (nanos > SLOW_NANOS) {
        memory.slow(node.key, value);
      } else {
        memory.quick(node.key, value);
      }
    }
    control.tell(l -> l.stepFinished(node.named(), nanos / 1e9));
    return value;
  }

  /** Its key speaks of the parameters as they were stated: a list in one of them may have changed. */
  private static void asStated(Node<?> node) {
    Node.Statement s = node.statement;
    if (!Graph.isScan(node)
        && !Statements.parameterDigest(s.kind(), s.body()).equals(s.parameterDigest())) {
      throw new IllegalStateException(Keys.title(node)
          + ": a parameter changed after the step was stated; expected one that stays as it is. "
          + "State the step after the last change, or give it a copy: List.copyOf(...)");
    }
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

  /**
   * Has what is told of a demanded value made, once, while the run goes on.
   *
   * @param waits whether the caller may be held up when too much waits already
   */
  void digest(Node<?> node, Object value, boolean waits) {
    if (node.digesting.getAndSet(true)) {
      return;
    }
    memory.demanded(node.key, value, waits, new StepMemory.Heard() {
      @Override
      public void digested(String digest, byte[] bytes) {
        if (others.of(node).isEmpty()) {
          tellIfOther(node, digest);
        }
        tell(node, ValueFacts.of(value, digest, bytes.length));
      }

      @Override
      public void failed(Throwable thrown) {
        StepRunner.this.failed(node, thrown);
      }
    });
  }

  /** Waits until all that is told of demanded values is there. */
  void awaitDigests() {
    memory.awaitDigests();
  }

  private void tell(Node<?> node, ValueFact fact) {
    node.fact = fact;
    memory.small(factKey(node), fact);
  }

  private Object applyApart(Node<?> node, Plugins.Loaded plugin, StepWork.Helpers helpers) {
    ThirdPartySteps.Good good = others.apply(node, plugin, helpers);
    Optional<String> before = store.digestOf(node.key);
    if (before.isPresent() && !before.get().equals(good.sha256())) {
      throw new PluginFault(
          "it answers differently than in an earlier run: from the same inputs it "
              + "gave a value of SHA-256 " + before.get() + ", now one of " + good.sha256());
    }
    if (Graph.isScan(node)) {
      remarks.put(node.index, good.remarks());
    }
    return good.value();
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
}
