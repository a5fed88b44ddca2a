package org.slabnote.worker.process;

import java.io.File;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import org.slabnote.api.Plugin;

/**
 * How a process of ours that may run a stranger's code is started: its own folder, no secrets, one
 * locale and zone, no network where the system allows that.
 *
 * @param javaHome the Java to start
 * @param classPath its class path; the worker and the API are added where they lack
 * @param megabytes its heap
 * @param main its main class
 */
record Launch(Path javaHome, List<String> classPath, int megabytes, Class<?> main) {

  /** Copies the list. */
  Launch {
    classPath = List.copyOf(classPath);
  }

  /**
   * Starts it.
   *
   * @param folder its working folder
   * @throws IOException if it cannot be started
   */
  Process start(Path folder) throws IOException {
    boolean windows =
        System.getProperty("os.name", "").toLowerCase(Locale.ROOT).startsWith("windows");
    Path java = javaHome.resolve("bin").resolve(windows ? "java.exe" : "java");
    Path options = Files.write(folder.resolve("options"), options(folder), StandardCharsets.UTF_8);
    List<String> command = new ArrayList<>(Isolation.prefix());
    command.addAll(List.of(java.toString(), "@" + options, main.getName()));
    ProcessBuilder builder = new ProcessBuilder(command);
    builder.directory(folder.toFile());
    Map<String, String> environment = builder.environment();
    String root = environment.getOrDefault("SystemRoot", "");
    environment.clear();
    if (windows) {
      environment.put("SystemRoot", root);
      environment.put("TEMP", folder.toString());
    } else {
      environment.put("LC_ALL", "C.UTF-8"); // or file names with letters beyond ASCII are not found
    }
    return builder.start();
  }

  /** Returns sizes and times of what stands on the class path: another where a jar was replaced. */
  String stamp() {
    StringBuilder stamp = new StringBuilder();
    for (String entry : classPath) {
      File file = new File(entry);
      stamp.append(file.length()).append(' ').append(file.lastModified()).append('\n');
    }
    return stamp.toString();
  }

  /** Returns the options for the Java launcher, one a line; paths quoted as its argument files want. */
  private List<String> options(Path folder) {
    Set<String> path = new LinkedHashSet<>(classPath);
    path.add(home(Launch.class));
    path.add(home(Plugin.class));
    List<String> options = new ArrayList<>(List.of(
        "-Xmx" + megabytes + "m",
        "-XX:+UseParallelGC", // gives up when nearly all time goes into collecting
        "-XX:-OmitStackTraceInFastThrow", // a failure keeps its line
        "-XX:-UsePerfData",
        "-XX:-CreateCoredumpOnCrash",
        "-Xlog:disable", // its warnings must not get between the frames
        "-Xlog:all=warning:stderr",
        "-XX:+IgnoreUnrecognizedVMOptions",
        "--sun-misc-unsafe-memory-access=allow",
        "--enable-native-access=ALL-UNNAMED",
        "-Duser.language=",
        "-Duser.country=",
        "-Duser.timezone=UTC",
        "-Dfile.encoding=UTF-8",
        "\"-Dline.separator=\\n\"", // within quotes the launcher reads a line feed
        "-Djava.awt.headless=true"));
    options.add(quoted("-Djava.io.tmpdir=" + folder));
    options.add("-cp");
    options.add(quoted(String.join(File.pathSeparator, path)));
    return options;
  }

  private static String quoted(String option) {
    return '"' + option.replace("\\", "\\\\").replace("\"", "\\\"") + '"';
  }

  private static String home(Class<?> type) {
    try {
      return Path.of(type.getProtectionDomain().getCodeSource().getLocation().toURI())
          .toString();
    } catch (java.net.URISyntaxException e) {
      throw new IllegalStateException("place of " + type.getName(), e);
    }
  }
}
