package org.slabnote.worker;

import java.util.List;
import java.util.Optional;

/**
 * A third party's plugin as a job pins it: its own jar first, then the libraries pinned with it.
 *
 * @param id its id, which begins the ids of all that it offers
 * @param group group of its coordinates; empty where the jar states none
 * @param artifact artifact of its coordinates
 * @param version version of its coordinates; empty where the jar states none
 * @param jars its own jar, then its libraries in the order in which their classes are sought
 * @since 0.1
 */
public record PluginJars(String id, String group, String artifact, String version, List<Jar> jars) {
  /**
   * Copies the list.
   *
   * @throws IllegalArgumentException if there is no jar
   */
  public PluginJars {
    jars = List.copyOf(jars);
    if (jars.isEmpty()) {
      throw new IllegalArgumentException("plugin " + id + " without a jar; expected at least one");
    }
  }

  /**
   * A jar.
   *
   * @param name file as the job names it, {@code plugins/notch-1.2.0.jar}
   * @param path where it lies, absolute
   * @param sha256 digest of its bytes, 64 lower-case hexadecimal digits
   */
  public record Jar(String name, String path, String sha256) {}

  /** Returns the plugin's own jar. */
  public Jar own() {
    return jars.get(0);
  }

  /** Returns how messages name it: {@code plugin notch 1.2.0 (plugins/notch-1.2.0.jar)}. */
  public String title() {
    return "plugin " + id + (version.isEmpty() ? "" : " " + version) + " ("
        + own().name() + ")";
  }

  /** Returns the plugin that an operation or format id belongs to, if a third party offers it. */
  public static Optional<PluginJars> of(List<PluginJars> plugins, String operation) {
    return plugins.stream().filter(one -> operation.startsWith(one.id() + ".")).findFirst();
  }

  /** Returns an operation's id, with the plugin where a third party offers it. */
  public static String named(List<PluginJars> plugins, String operation) {
    return of(plugins, operation).map(one -> operation + " of " + one.title()).orElse(operation);
  }
}
