package org.slabnote.app;

import java.io.PrintStream;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.slabnote.engine.run.CellState;
import org.slabnote.engine.run.Outlook;
import org.slabnote.engine.run.RunListener;
import org.slabnote.engine.trace.OutOfDate;

/**
 * Tells how a run goes on: one line that is rewritten on a terminal, plain lines for stages and cells
 * elsewhere.
 */
final class Progress implements RunListener, AutoCloseable {
  private static final long EVERY_NS = 80_000_000L;

  /** Time between two lines where the line cannot be rewritten. */
  private static final long LINE_EVERY_NS = 10_000_000_000L;

  private final Terminal terminal;
  private final PrintStream err;
  /** What was last said of each cell, so that nothing is said twice. */
  private final Map<String, String> told = new TreeMap<>();

  private List<OutOfDate.Stale> why = List.of();
  private String stage = "";
  private String cell = "";
  private String step = "";
  private int done;
  private int known;
  private long last;
  private boolean shown;
  private boolean closed;
  private Outlook outlook = Outlook.NOTHING;
  private long lastLine = System.nanoTime();

  Progress(Terminal terminal) {
    this.terminal = terminal;
    this.err = terminal.err();
  }

  @Override
  public synchronized void stage(String words) {
    stage = words;
    cell = "";
    step = "";
    if (terminal.progress()) {
      rewrite(true);
    } else {
      err.println(words);
    }
  }

  @Override
  public synchronized void cell(String name, CellState state) {
    boolean over = state.kind() == CellState.Kind.DONE || state.kind() == CellState.Kind.STOPPED;
    if (terminal.progress()) {
      cell = name;
      rewrite(over);
    } else if (over) {
      String words = state.kind() == CellState.Kind.DONE ? "done" : "stopped";
      if (!words.equals(told.put(name, words))) {
        err.println("cell " + name + ": " + words);
      }
    }
  }

  @Override
  public synchronized void step(String address, double share) {
    step = address;
    if (terminal.progress()) {
      rewrite(false);
    }
  }

  @Override
  public synchronized void steps(int nowDone, int nowKnown) {
    done = nowDone;
    known = nowKnown;
    if (terminal.progress()) {
      rewrite(false);
    }
  }

  private void rewrite(boolean now) {
    if (closed) {
      return; // an outlook that came late
    }
    long time = System.nanoTime();
    if (!now && shown && time - last < EVERY_NS) {
      return;
    }
    last = time;
    shown = true;
    StringBuilder line = new StringBuilder(stage);
    if (known > 0) {
      line.append(": ").append(done).append(" of ").append(known).append(" steps");
    }
    String left = outlook.words();
    if (!left.isEmpty() && done < known) {
      line.append(", ").append(left);
    }
    String where = step.isEmpty() ? cell : step;
    if (!where.isEmpty()) {
      line.append(" (").append(where).append(')');
    }
    int most = Math.min(line.length(), terminal.width() - 1);
    err.print("\r" + line.substring(0, most) + "\u001b[K");
    err.flush();
  }

  @Override
  public synchronized void outlook(Outlook now) {
    outlook = now;
    if (terminal.progress()) {
      rewrite(false);
    } else if (!closed
        && System.nanoTime() - lastLine > LINE_EVERY_NS
        && now.known() > now.done()) {
      lastLine = System.nanoTime();
      String left = now.words();
      err.println(
          now.done() + " of " + now.known() + " steps" + (left.isEmpty() ? "" : ", " + left));
    }
  }

  @Override
  public synchronized void why(List<OutOfDate.Stale> cells) {
    why = List.copyOf(cells);
  }

  /** Why the run computed what it did, once it was complete. */
  synchronized List<OutOfDate.Stale> why() {
    return why;
  }

  /** Takes the line away. */
  @Override
  public synchronized void close() {
    closed = true;
    if (shown) {
      err.print("\r\u001b[K");
      err.flush();
    }
  }
}
