package org.slabnote.worker.process;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.TimeUnit;

/**
 * Takes the network from a process, where the system lets a user do so without more.
 *
 * <p>On Linux by {@code unshare} of util-linux: a user and a network namespace of the process's own,
 * in which no interface is up, then the command itself in the same process, so that killing it kills
 * the command. Whether that works here is found once, by trying. Where it does not, processes start
 * without; no result depends on it.
 */
final class Isolation {
  private static final long TRIAL_MILLIS = 2000;
  private static final List<Path> PLACES =
      List.of(Path.of("/usr/bin/unshare"), Path.of("/bin/unshare"));
  /** A user that stays itself has no rights in its namespace; some systems only know the second way. */
  private static final List<String> USERS = List.of("--map-current-user", "--map-root-user");

  private Isolation() {}

  /** Holder: found when it is first asked for. */
  private static final class Found {
    static final List<String> PREFIX = find();

    private Found() {}
  }

  /** Returns what to put before a command to take the network from it; empty where nothing works. */
  static List<String> prefix() {
    return Found.PREFIX;
  }

  private static List<String> find() {
    if (!System.getProperty("os.name", "").toLowerCase(Locale.ROOT).startsWith("linux")) {
      return List.of();
    }
    for (Path unshare : PLACES) {
      if (Files.isExecutable(unshare)) {
        for (String user : USERS) {
          List<String> prefix = List.of(unshare.toString(), "--user", user, "--net", "--");
          if (works(prefix)) {
            return prefix;
          }
        }
        return List.of();
      }
    }
    return List.of();
  }

  private static boolean works(List<String> prefix) {
    List<String> command = new ArrayList<>(prefix);
    command.add("/bin/true");
    try {
      ProcessBuilder builder = new ProcessBuilder(command)
          .redirectOutput(ProcessBuilder.Redirect.DISCARD)
          .redirectError(ProcessBuilder.Redirect.DISCARD);
      builder.environment().clear();
      Process trial = builder.start();
      trial.getOutputStream().close();
      if (trial.waitFor(TRIAL_MILLIS, TimeUnit.MILLISECONDS)) {
        return trial.exitValue() == 0;
      }
      trial.destroyForcibly();
    } catch (IOException e) {
      return false;
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
    return false;
  }
}
