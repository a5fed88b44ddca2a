package org.slabnote.formats;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;

/**
 * Check values that may be read but not kept in this repository: a folder {@code shared/reference} beside
 * the repository or beside a folder above it, or where the property {@code slabnote.reference} says. Tests that need it are skipped where it is not there.
 */
public final class SharedReference {
  private SharedReference() {}

  /** A file or folder below {@code shared/reference}, where it is there. */
  public static Optional<Path> find(String name) {
    String stated = System.getProperty("slabnote.reference", "");
    if (!stated.isEmpty()) {
      return Optional.of(Path.of(stated, name)).filter(Files::exists);
    }
    Path at = Path.of("").toAbsolutePath();
    while (at != null) {
      Path found = at.resolveSibling("shared").resolve("reference").resolve(name);
      if (Files.exists(found)) {
        return Optional.of(found);
      }
      at = at.getParent();
    }
    return Optional.empty();
  }

  public static byte[] bytes(Path file) {
    try {
      return Files.readAllBytes(file);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
