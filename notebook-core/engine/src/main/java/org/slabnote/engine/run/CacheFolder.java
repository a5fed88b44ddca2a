package org.slabnote.engine.run;

import java.nio.file.Path;
import java.util.Locale;
import java.util.Map;

/**
 * Where remembered steps and compiled cells live: the user's cache folder, never the job.
 *
 * @since 0.1
 */
public final class CacheFolder {
  private CacheFolder() {}

  /** The folder {@code slabnote} in the user's cache folder, as the system has it; it may not exist yet. */
  public static Path ofUser() {
    return of(
        System.getProperty("os.name", ""), System.getProperty("user.home", "."), System.getenv());
  }

  /**
   * {@code $XDG_CACHE_HOME} where it is set to an absolute path (XDG Base Directory Specification),
   * {@code %LOCALAPPDATA%} on Windows, {@code ~/Library/Caches} on macOS, else {@code ~/.cache}.
   */
  static Path of(String system, String home, Map<String, String> environment) {
    String xdg = environment.getOrDefault("XDG_CACHE_HOME", "");
    if (!xdg.isBlank() && Path.of(xdg).isAbsolute()) {
      return Path.of(xdg, "slabnote");
    }
    String name = system.toLowerCase(Locale.ROOT);
    if (name.startsWith("windows")) {
      String local = environment.getOrDefault("LOCALAPPDATA", "");
      return local.isBlank()
          ? Path.of(home, "AppData", "Local", "slabnote")
          : Path.of(local, "slabnote");
    }
    return name.startsWith("mac")
        ? Path.of(home, "Library", "Caches", "slabnote")
        : Path.of(home, ".cache", "slabnote");
  }
}
