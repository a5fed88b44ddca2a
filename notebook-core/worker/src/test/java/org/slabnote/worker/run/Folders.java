package org.slabnote.worker.run;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Comparator;

/** Folders in tests. */
public final class Folders {
  private Folders() {}

  /** Deletes a folder and all in it. */
  public static void delete(Path folder) {
    try (var all = Files.walk(folder)) {
      for (Path path : all.sorted(Comparator.reverseOrder()).toList()) {
        Files.delete(path);
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
