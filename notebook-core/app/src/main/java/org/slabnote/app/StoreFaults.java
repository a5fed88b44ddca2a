package org.slabnote.app;

import java.io.IOException;
import java.io.UncheckedIOException;
import org.slabnote.engine.problem.Fault;
import org.slabnote.engine.run.Remembered;

/** Words what keeps a command from the folder of remembered steps. */
final class StoreFaults {
  private StoreFaults() {}

  /** Something that reads or writes the folder. */
  interface Body<T> {
    T call() throws IOException;
  }

  /**
   * Does it.
   *
   * @param done what cannot be done where it fails: read, written
   * @throws Fault if the folder does not let it
   */
  static <T> T guard(Remembered remembered, String done, Body<T> body) {
    try {
      return body.call();
    } catch (IOException | UncheckedIOException e) {
      throw new Fault(
          remembered.cache() + ": what is remembered there cannot be " + done + " ("
              + e.getClass().getSimpleName() + ": " + e.getMessage()
              + "). Allow it, make room, or set XDG_CACHE_HOME to another folder",
          e);
    }
  }
}
