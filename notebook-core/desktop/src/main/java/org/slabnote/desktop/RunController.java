package org.slabnote.desktop;

import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicLong;
import java.util.function.Consumer;
import javafx.application.Platform;
import javafx.beans.property.ReadOnlyBooleanProperty;
import javafx.beans.property.ReadOnlyBooleanWrapper;
import javafx.beans.property.ReadOnlyDoubleProperty;
import javafx.beans.property.ReadOnlyDoubleWrapper;
import javafx.beans.property.ReadOnlyStringProperty;
import javafx.beans.property.ReadOnlyStringWrapper;
import org.slabnote.engine.document.Document;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Problem;
import org.slabnote.engine.run.CellState;
import org.slabnote.engine.run.Outlook;
import org.slabnote.engine.run.RunCancelled;
import org.slabnote.engine.run.RunListener;
import org.slabnote.engine.trace.OutOfDate;

/**
 * Runs and checks on one thread beside the window's, and tells the window on its own thread. Progress
 * is gathered between two frames, so that many quick steps do not flood the window.
 */
final class RunController implements AutoCloseable {
  private final JobRun job;
  private final CellStates states;
  private final Runnable changed;
  private final Consumer<Results> found;
  private final ExecutorService thread = Executors.newSingleThreadExecutor(work -> {
    Thread t = new Thread(work, "run");
    t.setDaemon(true);
    return t;
  });
  private final ReadOnlyBooleanWrapper running = new ReadOnlyBooleanWrapper(false);
  private final ReadOnlyStringWrapper words = new ReadOnlyStringWrapper("Nothing has run.");
  private final ReadOnlyDoubleWrapper share = new ReadOnlyDoubleWrapper(0);
  private final AtomicLong checks = new AtomicLong();

  /**
   * @param changed called on the window's thread when a cell's state may have changed
   * @param found called on the window's thread with what a run found
   */
  RunController(JobRun job, CellStates states, Runnable changed, Consumer<Results> found) {
    this.job = job;
    this.states = states;
    this.changed = changed;
    this.found = found;
  }

  ReadOnlyBooleanProperty runningProperty() {
    return running.getReadOnlyProperty();
  }

  ReadOnlyStringProperty wordsProperty() {
    return words.getReadOnlyProperty();
  }

  ReadOnlyDoubleProperty shareProperty() {
    return share.getReadOnlyProperty();
  }

  /** Reads what the files say and checks the text; nothing runs. */
  void open(Document text) {
    thread.execute(() -> {
      try {
        Results before = job.before(text.text());
        Platform.runLater(() -> found.accept(before));
      } catch (BadInput bad) {
        Platform.runLater(() -> wrong(bad.problems()));
        return;
      } catch (RuntimeException fault) {
        Platform.runLater(() -> fault(fault));
        return;
      }
      Platform.runLater(() -> check(text));
    });
  }

  /** Checks the text as it stands; an older check that has not begun is left out. */
  void check(Document text) {
    long mine = checks.incrementAndGet();
    thread.execute(() -> {
      if (mine != checks.get()) {
        return;
      }
      try {
        List<Problem> problems = job.check(text.text());
        Optional<OutOfDate> found = states.hasRun() ? outOfDate(text) : Optional.empty();
        Platform.runLater(() -> {
          if (mine == checks.get() && !running.get()) {
            states.checked(problems);
            found.ifPresent(one -> states.lookedAt(text, one));
            changed.run();
          }
        });
      } catch (RuntimeException fault) {
        Platform.runLater(() -> fault(fault));
      }
    });
  }

  /** Looks whether a file of the job changed on disk since the run; compiles nothing, runs nothing. */
  void look(Document text) {
    if (running.get() || !states.hasRun()) {
      return;
    }
    long mine = checks.get();
    thread.execute(() -> {
      Optional<OutOfDate> found = mine == checks.get() ? outOfDate(text) : Optional.empty();
      found.ifPresent(one -> Platform.runLater(() -> {
        if (mine == checks.get() && !running.get()) {
          states.lookedAt(text, one);
          changed.run();
        }
      }));
    });
  }

  private Optional<OutOfDate> outOfDate(Document text) {
    try {
      return job.outOfDate(text.text());
    } catch (BadInput bad) {
      return Optional.empty(); // told by the check, or by the next run
    }
  }

  /** Runs the text as it stands and writes nothing. */
  void run(Document text, Collection<String> more) {
    start(text, listener -> job.compute(text.text(), more, listener), "Done. Nothing was written.");
  }

  /** Runs the notebook on disk, which holds this text, and writes the record. */
  void record(Document text) {
    start(text, job::record, "Done. The record was written.");
  }

  /** Stops the run under way. */
  void cancel() {
    if (running.get()) {
      words.set("Cancelling");
      job.cancel();
    }
  }

  private interface Work {
    Results run(RunListener listener) throws BadInput;
  }

  private void start(Document text, Work work, String done) {
    if (running.get()) {
      return;
    }
    checks.incrementAndGet();
    running.set(true);
    share.set(-1);
    words.set("Starting");
    states.started();
    changed.run();
    Gathering listener = new Gathering();
    thread.execute(() -> {
      try {
        Results results = work.run(listener);
        Platform.runLater(() -> {
          states.completed(text);
          end(
              results.warnings().isEmpty()
                  ? done
                  : done + " " + results.warnings().get(0));
          found.accept(results);
        });
      } catch (BadInput bad) {
        Platform.runLater(() -> {
          end("");
          wrong(bad.problems());
        });
      } catch (RunCancelled cancelled) {
        Platform.runLater(() -> {
          states.ended(List.of());
          end("Cancelled. Nothing was written; what was computed is remembered.");
        });
      } catch (RuntimeException | Error fault) {
        Platform.runLater(() -> {
          states.ended(List.of());
          end("");
          fault(fault);
        });
      }
    });
  }

  private void end(String saying) {
    running.set(false);
    share.set(0);
    words.set(saying);
    changed.run();
  }

  private void wrong(List<Problem> problems) {
    states.ended(problems);
    words.set(
        problems.size() == 1
            ? "Stopped: " + problems.get(0)
            : "Stopped: " + problems.size() + " problems, the first: " + problems.get(0));
    changed.run();
  }

  private void fault(Throwable fault) {
    String what =
        fault.getMessage() == null ? fault.getClass().getSimpleName() : fault.getMessage();
    words.set("A fault of Slabnote, not of the job: " + what);
    changed.run();
  }

  @Override
  public void close() {
    cancel();
    thread.shutdownNow();
  }

  /** Hears the run and tells the window at most once a frame. */
  private final class Gathering implements RunListener {
    private final Map<String, CellStatus> cells = new HashMap<>();
    private final Map<String, Integer> finished = new HashMap<>();
    private final AtomicBoolean asked = new AtomicBoolean();
    private String stage = "";
    private String left = "";
    private int done;
    private int known;

    @Override
    public synchronized void stage(String now) {
      stage = now;
      ask();
    }

    @Override
    public synchronized void cell(String cell, CellState state) {
      CellStatus status = switch (state.kind()) {
        case WAITING -> CellStatus.WAITING;
        case RUNNING -> CellStatus.running("running");
        case DONE -> CellStatus.DONE;
        case STOPPED ->
          new CellStatus(CellStatus.Kind.WRONG, "stopped: " + state.words(), List.of());
      };
      cells.put(cell, status);
      ask();
    }

    @Override
    public synchronized void step(String address, double part) {
      int slash = address.indexOf('/');
      if (slash <= 0 || address.startsWith("scan/")) {
        return;
      }
      String cell = address.substring(0, slash);
      int whole = finished.merge(cell, part >= 1 ? 1 : 0, Integer::sum);
      String steps = whole == 0 ? "" : whole == 1 ? "1 step done" : whole + " steps done";
      String going =
          part >= 1 ? "" : address.substring(slash + 1) + " " + Math.round(100 * part) + " %";
      String join = steps.isEmpty() || going.isEmpty() ? "" : ", ";
      cells.put(cell, CellStatus.running("running: " + steps + join + going));
      ask();
    }

    @Override
    public synchronized void steps(int stepsDone, int stepsKnown) {
      done = stepsDone;
      known = stepsKnown;
      ask();
    }

    @Override
    public synchronized void outlook(Outlook outlook) {
      left = outlook.words();
      ask();
    }

    private void ask() {
      if (asked.compareAndSet(false, true)) {
        Platform.runLater(this::tell);
      }
    }

    private synchronized void tell() {
      asked.set(false);
      if (!running.get()) {
        return;
      }
      cells.forEach(states::live);
      share.set(known == 0 ? -1 : (double) done / known);
      if (!words.get().equals("Cancelling")) {
        String time = left.isEmpty() || done >= known ? "" : ", " + left;
        words.set(known == 0 ? stage : stage + ": " + done + " of " + known + " steps" + time);
      }
      changed.run();
    }
  }
}
