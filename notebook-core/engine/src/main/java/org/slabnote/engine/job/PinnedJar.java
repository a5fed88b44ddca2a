package org.slabnote.engine.job;

/**
 * A jar that a job pins.
 *
 * @param group group of its coordinates; empty where it states none
 * @param artifact artifact of its coordinates, or the file's name where it states none
 * @param version version of its coordinates; empty where it states none
 * @param file path below {@code plugins/}, parts separated by {@code /}
 * @param sha256 digest of its bytes, 64 lower-case hexadecimal digits
 * @since 0.1
 */
public record PinnedJar(String group, String artifact, String version, String file, String sha256) {
  /** Returns the coordinates as {@code group:artifact:version}, without the parts that are empty. */
  public String coordinates() {
    return (group.isEmpty() ? "" : group + ":")
        + artifact
        + (version.isEmpty() ? "" : ":" + version);
  }

  /** Returns the path below the job folder. */
  public String path() {
    return PluginsLock.FOLDER + "/" + file;
  }
}
