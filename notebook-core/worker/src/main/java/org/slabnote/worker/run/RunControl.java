package org.slabnote.worker.run;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.atomic.AtomicReference;
import org.jspecify.annotations.Nullable;
import org.slabnote.api.CancelledException;
import org.slabnote.worker.RunListener;
import org.slabnote.worker.RunOutcome.Failure;

/** Whether a run is to stop, what failed so far, and the one way to its listener. */
final class RunControl {
  /** Why a run stops before its end. */
  enum Reason {
    CANCELLED,
    TIME,
    MEMORY
  }

  private final AtomicReference<@Nullable Reason> reason = new AtomicReference<>();
  private final List<Placed> failures = new ArrayList<>();
  private final RunListener listener;
  private final Object toListener = new Object();
  private final List<Runnable> onStop = new ArrayList<>();

  /** A failure with its place in the order of the notebook. */
  private record Placed(int order, Failure failure) {}

  RunControl(RunListener listener) {
    this.listener = listener;
  }

  /** Stops the run; the first reason stays. */
  void stop(Reason why) {
    if (reason.compareAndSet(null, why)) {
      List<Runnable> all;
      synchronized (onStop) {
        all = List.copyOf(onStop);
      }
      all.forEach(Runnable::run);
    }
  }

  /** Has something done once the run is to stop: at once, if it is already. */
  void onStop(Runnable what) {
    synchronized (onStop) {
      onStop.add(what);
    }
    if (stopped()) {
      what.run();
    }
  }

  @Nullable
  Reason reason() {
    return reason.get();
  }

  boolean stopped() {
    return reason.get() != null;
  }

  /** Throws if the run is to stop. */
  void check() {
    if (reason.get() != null) {
      throw new CancelledException();
    }
  }

  /** Notes a failure; {@code order} is the index of the step, or the greatest number for a statement. */
  void failed(int order, Failure failure) {
    synchronized (failures) {
      failures.add(new Placed(order, failure));
    }
    tell(l -> l.failed(failure));
    if (!failure.cell().isEmpty()) {
      tell(l -> l.cell(failure.cell(), RunListener.CellState.FAILED));
    }
  }

  boolean hasFailed() {
    synchronized (failures) {
      return !failures.isEmpty();
    }
  }

  List<Failure> failures() {
    synchronized (failures) {
      return failures.stream()
          .sorted(java.util.Comparator.comparingInt(Placed::order))
          .map(Placed::failure)
          .toList();
    }
  }

  /** Tells the listener something, one thread at a time. */
  void tell(java.util.function.Consumer<RunListener> what) {
    synchronized (toListener) {
      what.accept(listener);
    }
  }
}
