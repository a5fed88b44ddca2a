package org.slabnote.worker.run;

import java.lang.reflect.Field;
import java.lang.reflect.InvocationTargetException;
import java.lang.reflect.Method;
import java.util.LinkedHashSet;
import java.util.Optional;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.slabnote.api.Notebook;
import org.slabnote.worker.RunListener.CellState;
import org.slabnote.worker.Tape;

/** Runs the statements of the tape, in order, on the calling thread. */
final class Replay {
  private final Tape tape;
  private final TapeLoader cells;
  private final Blame blame;
  private final RunControl control;
  private final Set<String> replayed = new LinkedHashSet<>();
  private volatile Tape.@Nullable Snippet current;
  private volatile int number = -1;

  Replay(Tape tape, TapeLoader cells, Blame blame, RunControl control) {
    this.tape = tape;
    this.cells = cells;
    this.blame = blame;
    this.control = control;
  }

  /** Returns the statement that runs now; nothing when none does. */
  Optional<Tape.Snippet> current() {
    return Optional.ofNullable(current);
  }

  /** Returns the number in the tape of the statement that runs now; -1 when none does. */
  int statement() {
    return number;
  }

  /** Returns the place of the call that this thread is in. */
  Place here() {
    Tape.Snippet now = current;
    return now == null ? Place.NONE : blame.here(now);
  }

  /** Returns the cells that were replayed or begun. */
  Set<String> replayed() {
    return replayed;
  }

  /**
   * Runs all statements.
   *
   * @throws RunStopped if one failed, which is noted then, or the run was stopped
   */
  void run(Graph graph, CellSession session) {
    Notebook.install(session);
    try {
      for (Tape.Cell cell : tape.cells()) {
        replayed.add(cell.name());
        control.tell(l -> l.cell(cell.name(), CellState.REPLAYING));
        for (int i = 0; i < tape.snippets().size(); i++) {
          Tape.Snippet snippet = tape.snippets().get(i);
          if (snippet.cell().equals(cell.name()) && !snippet.method().isEmpty()) {
            number = i;
            statement(graph, snippet);
          }
        }
        control.tell(l -> l.cell(cell.name(), CellState.REPLAYED));
      }
    } finally {
      current = null;
      number = -1;
      Notebook.install(null);
    }
  }

  private void statement(Graph graph, Tape.Snippet snippet) {
    if (control.stopped()) {
      throw new RunStopped();
    }
    current = snippet;
    control.tell(l -> l.at("", snippet.cell(), snippet.line()));
    graph.begin(snippet.cell(), snippet.variable());
    try {
      Class<?> wrapper = Class.forName(snippet.wrapper(), true, cells);
      Method method = wrapper.getDeclaredMethod(snippet.method());
      method.setAccessible(true);
      method.invoke(null);
      graph.end(held(wrapper, snippet.variable()));
    } catch (InvocationTargetException e) {
      graph.end(Optional.empty());
      threw(snippet, e.getTargetException());
    } catch (ReflectiveOperationException e) {
      throw new IllegalStateException(
          "the tape has a statement of cell " + snippet.cell() + " that cannot be called: " + e, e);
    } catch (LinkageError e) {
      graph.end(Optional.empty());
      threw(snippet, e);
    }
    if (control.hasFailed()) {
      throw new RunStopped(); // a cell swallowed what was noted
    }
  }

  private static Optional<Object> held(Class<?> wrapper, String variable)
      throws ReflectiveOperationException {
    if (variable.isEmpty()) {
      return Optional.empty();
    }
    Field field = wrapper.getDeclaredField(variable);
    field.setAccessible(true);
    return Optional.ofNullable(field.get(null));
  }

  private void threw(Tape.Snippet snippet, Throwable thrown) {
    Throwable cause = thrown instanceof ExceptionInInitializerError e && e.getCause() != null
        ? e.getCause()
        : thrown;
    if (!(cause instanceof RunStopped) && !control.stopped()) {
      control.failed(Integer.MAX_VALUE, blame.ofSnippet(snippet, cause));
      if (cause instanceof OutOfMemoryError) {
        control.stop(RunControl.Reason.MEMORY);
      }
    }
    throw new RunStopped();
  }
}
