package org.slabnote.engine.job;

import java.util.List;

/**
 * A third party's plugin that a job pins, with the libraries that are pinned with it.
 *
 * @param id its id
 * @param jars its own jar first, then the libraries in the order in which they are searched
 * @since 0.1
 */
public record PinnedPlugin(String id, List<PinnedJar> jars) {
  /**
   * Copies the list.
   *
   * @throws IllegalArgumentException if there is no jar
   */
  public PinnedPlugin {
    jars = List.copyOf(jars);
    if (jars.isEmpty()) {
      throw new IllegalArgumentException("plugin " + id + " without a jar; expected at least one");
    }
  }

  /** Returns the plugin's own jar. */
  public PinnedJar own() {
    return jars.get(0);
  }
}
