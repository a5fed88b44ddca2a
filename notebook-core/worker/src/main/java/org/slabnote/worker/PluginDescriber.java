package org.slabnote.worker;

/**
 * Asks plugins of third parties what they are, away from the caller's process.
 *
 * @since 0.1
 */
public interface PluginDescriber {
  /** Loads a plugin and returns what it says of itself, or why it cannot be used. Always returns. */
  PluginDescription describe(PluginJars plugin);
}
