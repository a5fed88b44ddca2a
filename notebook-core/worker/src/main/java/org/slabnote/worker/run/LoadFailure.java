package org.slabnote.worker.run;

import java.util.ServiceConfigurationError;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Words for why a plugin cannot be loaded or its code not be run. */
final class LoadFailure {
  private static final Pattern CLASS_FILE = Pattern.compile("class file version (\\d+)");
  /** A class file of version 61 is for Java 17, and so on by ones. */
  private static final int BEFORE_JAVA = 44;

  private LoadFailure() {}

  static String words(Throwable thrown) {
    Throwable cause = cause(thrown);
    if (cause instanceof UnsupportedClassVersionError) {
      return newerJava(cause);
    }
    if (cause instanceof NoClassDefFoundError || cause instanceof ClassNotFoundException) {
      String name = missing(cause);
      if (!name.isEmpty()) {
        return "it needs the class " + name
            + ", which is neither in its jars nor among what plugins "
            + "may use. Perhaps a library is to be pinned with it";
      }
    }
    if (cause instanceof IncompatibleClassChangeError || cause instanceof ClassFormatError) {
      return "it does not fit this version of the plugin API or of a library: "
          + cause.getClass().getSimpleName() + ": " + cause.getMessage();
    }
    if (cause == thrown && thrown instanceof ServiceConfigurationError) {
      return String.valueOf(thrown.getMessage());
    }
    if (cause == thrown && thrown instanceof IllegalArgumentException) {
      return String.valueOf(thrown.getMessage()); // ours: a rule that it breaks
    }
    return "it throws " + cause.getClass().getSimpleName()
        + (cause.getMessage() == null ? "" : ": " + cause.getMessage())
        + PluginFrames.thrownAt(cause, "at");
  }

  private static Throwable cause(Throwable thrown) {
    Throwable cause = thrown;
    while (cause.getCause() != null
        && (cause instanceof ServiceConfigurationError
            || cause instanceof ExceptionInInitializerError)) {
      cause = cause.getCause();
    }
    return cause;
  }

  private static String newerJava(Throwable cause) {
    Matcher version = CLASS_FILE.matcher(String.valueOf(cause.getMessage()));
    String needs = version.find()
        ? "Java " + (Integer.parseInt(version.group(1)) - BEFORE_JAVA)
        : "a newer Java";
    return "it needs " + needs + "; this is Java " + Runtime.version().feature()
        + ". Get it built for Java 17, or run Slabnote with " + needs;
  }

  /** Returns the name of the class that is missing; empty where the message names none. */
  static String missing(Throwable thrown) {
    String message = String.valueOf(thrown.getMessage());
    return message.matches("[\\w./$]+") && !message.equals("null") ? message.replace('/', '.') : "";
  }
}
