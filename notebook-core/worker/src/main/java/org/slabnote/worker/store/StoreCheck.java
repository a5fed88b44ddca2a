package org.slabnote.worker.store;

import java.nio.file.Path;
import java.util.List;

/**
 * What a reading of a whole store gave.
 *
 * @param keys keys that verify and lead to a value
 * @param values values that verify
 * @param bytes bytes of the values that were read
 * @param damaged files that did not verify and are deleted
 * @param astray keys that led to no value and are deleted
 * @param foreign what stands in the folder and is not the store's; left alone
 * @since 0.1
 */
public record StoreCheck(
    int keys, int values, long bytes, List<Path> damaged, int astray, List<Path> foreign) {
  /** Copies the lists. */
  public StoreCheck {
    damaged = List.copyOf(damaged);
    foreign = List.copyOf(foreign);
  }
}
