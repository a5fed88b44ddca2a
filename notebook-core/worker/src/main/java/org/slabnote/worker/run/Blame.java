package org.slabnote.worker.run;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.slabnote.api.ScanFileException;
import org.slabnote.worker.PluginJars;
import org.slabnote.worker.RunOutcome.Failure;
import org.slabnote.worker.RunOutcome.Failure.Kind;
import org.slabnote.worker.Tape;

/** Finds the place in the notebook that something is charged to, and the words for it. */
final class Blame {
  private final Tape tape;
  private final TapeLoader cells;
  private final int megabytes;
  private final List<PluginJars> plugins;

  static final String FAULT_OF_PLUGIN =
      ". This is a fault of the plugin, not of the cell: tell its "
          + "author, and leave the step out until it is put right";

  /** A place in a cell's class. */
  private record At(String className, int line) {}

  Blame(Tape tape, TapeLoader cells, int megabytes, List<PluginJars> plugins) {
    this.plugins = List.copyOf(plugins);
    this.megabytes = megabytes;
    this.tape = tape;
    this.cells = cells;
  }

  /** Returns the place of the statement that is running on this thread. */
  Place here(Tape.Snippet snippet) {
    return StackWalker.getInstance()
        .walk(frames ->
            place(snippet, frames.map(f -> new At(f.getClassName(), f.getLineNumber()))));
  }

  /** Returns the place of a statement that another thread is at. */
  Place there(Tape.Snippet snippet, Thread thread) {
    return place(snippet, at(thread.getStackTrace()));
  }

  private static Stream<At> at(StackTraceElement[] trace) {
    return Arrays.stream(trace).map(e -> new At(e.getClassName(), e.getLineNumber()));
  }

  private Place place(Tape.Snippet snippet, Stream<At> frames) {
    int line = frames
        .filter(at -> of(snippet, at.className()) && at.line() > 0)
        .findFirst()
        .map(at -> tape.cell(snippet.cell()).firstLine() - 1 + at.line())
        .orElse(snippet.line());
    return new Place(snippet.cell(), line, snippet.source());
  }

  private static boolean of(Tape.Snippet snippet, String className) {
    String wrapper = snippet.wrapper();
    return !wrapper.isEmpty() && (className.equals(wrapper) || className.startsWith(wrapper + "$"));
  }

  /** Charges a statement with what it threw. */
  Failure ofSnippet(Tape.Snippet snippet, Throwable thrown) {
    // Where the stack overflows is chance: the statement's own line is not.
    Place place = thrown instanceof StackOverflowError
        ? new Place(snippet.cell(), snippet.line(), snippet.source())
        : place(snippet, at(thrown.getStackTrace()));
    Optional<PluginJars> plugin = atWork(thrown.getStackTrace());
    if (plugin.isPresent() && kind(thrown) == Kind.EXCEPTION && !isMeant(thrown)) {
      return failure(
          Kind.PLUGIN,
          place,
          "",
          plugin.get().title() + ": " + words(thrown) + PluginFrames.thrownAt(thrown, "thrown by")
              + FAULT_OF_PLUGIN);
    }
    return failure(kind(thrown), place, "", words(thrown) + elsewhere(thrown, place));
  }

  /** Returns the third party's plugin whose code a thread was in. */
  Optional<PluginJars> atWork(StackTraceElement[] trace) {
    return PluginFrames.atWork(trace, plugins);
  }

  private static boolean isMeant(Throwable thrown) {
    return thrown instanceof IllegalArgumentException
        || thrown instanceof IllegalStateException
        || thrown instanceof ScanFileException;
  }

  /** Charges the cell that stated a step with what the step threw. */
  Failure ofStep(Node<?> node, Throwable thrown) {
    Place place = node.statement.place();
    if (thrown instanceof ScanFileException e) {
      return new Failure(
          Kind.SCAN, "", 0, "", node.named(), e.file(), String.valueOf(e.getMessage()));
    }
    String id = Keys.title(node);
    Optional<PluginJars> plugin = PluginJars.of(plugins, id);
    if (plugin.isPresent()) {
      return ofThirdParty(node, id, plugin.get(), thrown);
    }
    String words = words(thrown);
    String what = words.startsWith(id + ": ") ? words.substring(id.length() + 2) : words;
    String message = id + ": " + what + elsewhere(thrown, place);
    return failure(kind(thrown), place, node.named(), message);
  }

  /** The plugin is named, and what it did not mean is charged to it: the cell only stated the step. */
  private Failure ofThirdParty(Node<?> node, String id, PluginJars plugin, Throwable thrown) {
    Place place = node.statement.place();
    boolean refuses = isMeant(thrown)
        && !PluginFrames.message(thrown).equals("null")
        && !PluginFrames.message(thrown).isBlank();
    String words = words(thrown);
    String what = words.startsWith(id + ": ") ? words.substring(id.length() + 2) : words;
    String named = id + " of " + plugin.title() + ": ";
    if (refuses || thrown instanceof OutOfMemoryError) {
      return failure(kind(thrown), place, node.named(), named + what + elsewhere(thrown, place));
    }
    String told = thrown instanceof PluginFault
        ? String.valueOf(thrown.getMessage())
        : thrown instanceof NoClassDefFoundError || thrown instanceof IncompatibleClassChangeError
            ? LoadFailure.words(thrown)
            : thrown instanceof StackOverflowError
                ? what
                : what + PluginFrames.thrownAt(thrown, "thrown by");
    return failure(Kind.PLUGIN, place, node.named(), named + told + FAULT_OF_PLUGIN);
  }

  private static Failure failure(Kind kind, Place place, String address, String message) {
    return new Failure(kind, place.cell(), place.line(), place.snippet(), address, "", message);
  }

  private static Kind kind(Throwable thrown) {
    if (thrown instanceof OutOfMemoryError) {
      return lacksThreads(thrown) ? Kind.EXCEPTION : Kind.MEMORY; // more heap would not help
    }
    return thrown instanceof StackOverflowError ? Kind.STACK : Kind.EXCEPTION;
  }

  private static boolean lacksThreads(Throwable thrown) {
    return String.valueOf(thrown.getMessage()).contains("native thread");
  }

  static String memoryIsFull(int megabytes) {
    return "the memory of the worker, " + megabytes
        + " MB, is full. Compute less at once, or give the run more";
  }

  private String words(Throwable thrown) {
    if (thrown instanceof OutOfMemoryError) {
      return lacksThreads(thrown)
          ? "the system gives the worker no more threads, or no room for their stacks. Start fewer: "
              + "an operation computes in parallel by its Work"
          : memoryIsFull(megabytes);
    }
    if (thrown instanceof StackOverflowError) {
      return "calls without end: a method calls itself, directly or by others, and never returns";
    }
    String message = PluginFrames.message(thrown);
    boolean told = !message.isBlank() && !message.equals("null");
    if (isMeant(thrown) && told) {
      return message;
    }
    String name = thrown.getClass().getSimpleName();
    return (name.isEmpty() ? thrown.getClass().getName() : name) + (told ? ": " + message : "");
  }

  /** Says where it was thrown, when that is another place of the notebook, or the code of a plugin that did not mean it. */
  private String elsewhere(Throwable thrown, Place place) {
    if (thrown instanceof OutOfMemoryError || thrown instanceof StackOverflowError) {
      return "";
    }
    for (StackTraceElement e : thrown.getStackTrace()) {
      Optional<String> cell = cells.cellOf(e.getClassName());
      if (cell.isPresent() && e.getLineNumber() <= 0) {
        continue; // what the compiler or the engine added to a class of the cell
      }
      if (cell.isPresent()) {
        int line = tape.cell(cell.get()).firstLine() - 1 + e.getLineNumber();
        return cell.get().equals(place.cell()) && line == place.line()
            ? ""
            : " (thrown in cell " + cell.get() + ", line " + line + ")";
      }
      boolean ours = e.getClassName().startsWith("org.slabnote.worker.")
          || e.getClassName().startsWith("org.slabnote.api.")
          || e.getClassName().startsWith("java.")
          || e.getClassName().startsWith("jdk.");
      if (!ours
          && !(thrown instanceof IllegalArgumentException)
          && !(thrown instanceof IllegalStateException)) {
        return " (thrown by " + e.getClassName() + ", line " + e.getLineNumber()
            + "; perhaps a fault of that plugin)";
      }
    }
    return "";
  }
}
