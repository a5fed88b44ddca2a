package org.slabnote.engine.run;

import java.util.Optional;
import java.util.SortedSet;

/**
 * Values of steps by address, read when they are asked for.
 *
 * @since 0.1
 */
public interface Values {
  /** The addresses that have a value. */
  SortedSet<String> addresses();

  /**
   * The value of a step; empty where there is none of that address, or the store let go of it.
   *
   * @param address as in {@link #addresses}
   */
  Optional<Object> find(String address);
}
