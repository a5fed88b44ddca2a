package org.slabnote.engine.run;

import java.nio.file.Path;
import org.slabnote.worker.store.Store;

/**
 * What is remembered in a cache folder, of all jobs: the steps and the compiled cells. For whoever looks
 * after the folder; losing all of it loses time only.
 *
 * @param cache the cache folder; it may not exist yet
 * @since 0.1
 */
public record Remembered(Path cache) {
  /** The folder of the steps' store, for its limit. */
  public Path stepsFolder() {
    return cache.resolve("store");
  }

  /** The values of steps. */
  public Store steps() {
    return Store.at(stepsFolder());
  }

  /** The compiled cells, which keep to {@link #cellsLimit}. */
  public Store cells() {
    return RememberedCells.of(cache);
  }

  /** Returns what the compiled cells may take, bytes. */
  public long cellsLimit() {
    return RememberedCells.MOST_BYTES;
  }
}
