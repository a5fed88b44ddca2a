package org.slabnote.engine.trace;

import java.util.Collections;
import java.util.SortedMap;
import java.util.TreeMap;

/**
 * What computes: the plugins by id, and everything beside them.
 *
 * @param plugins by id
 * @param libraries digest of all else on the class path
 * @since 0.1
 */
public record Marks(SortedMap<String, PluginMark> plugins, String libraries) {
  /** Copies the map. */
  public Marks {
    plugins = Collections.unmodifiableSortedMap(new TreeMap<>(plugins));
  }
}
