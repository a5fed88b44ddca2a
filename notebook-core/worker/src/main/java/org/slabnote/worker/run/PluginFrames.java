package org.slabnote.worker.run;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import org.slabnote.worker.PluginJars;

/** Finds code of third parties' plugins in stack traces, by the names of their loaders. */
final class PluginFrames {
  private PluginFrames() {}

  /** Returns the innermost frame of a third party's code. */
  static Optional<StackTraceElement> innermost(StackTraceElement[] trace) {
    return Arrays.stream(trace).filter(PluginFrames::isOfPlugin).findFirst();
  }

  private static boolean isOfPlugin(StackTraceElement frame) {
    return String.valueOf(frame.getClassLoaderName()).startsWith(PluginLoader.NAME);
  }

  /**
   * Returns the plugin whose code is at work: the innermost frame that is neither the JDK's nor
   * Slabnote's is of it.
   */
  static Optional<PluginJars> atWork(StackTraceElement[] trace, List<PluginJars> plugins) {
    return Arrays.stream(trace)
        .filter(frame -> frame.getClassLoaderName() != null
            && !List.of("app", "platform").contains(frame.getClassLoaderName()))
        .findFirst()
        .filter(PluginFrames::isOfPlugin)
        .flatMap(frame -> plugins.stream()
            .filter(one -> frame.getClassLoaderName().equals(PluginLoader.NAME + one.id()))
            .findFirst());
  }

  /** Returns where something was thrown, in brackets: in a plugin's code if its trace has any. */
  static String thrownAt(Throwable thrown, String how) {
    StackTraceElement[] trace = thrown.getStackTrace();
    return innermost(trace)
        .or(() -> Arrays.stream(trace).findFirst())
        .map(at -> " (" + how + " " + at.getClassName() + ", line " + at.getLineNumber() + ")")
        .orElse("");
  }

  /** Returns the message of what was thrown; it may be a stranger's code that makes it. */
  static String message(Throwable thrown) {
    try {
      return String.valueOf(thrown.getMessage());
    } catch (RuntimeException | LinkageError | StackOverflowError e) {
      return "null";
    }
  }
}
