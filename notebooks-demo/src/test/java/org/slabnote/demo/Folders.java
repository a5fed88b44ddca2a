package org.slabnote.demo;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HexFormat;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.stream.Stream;

/** Copies of folders, and what is in them. */
final class Folders {
  private Folders() {}

  /** Copies a folder with all that is below it; returns the copy. */
  static Path copy(Path from, Path to) {
    try (Stream<Path> files = Files.walk(from)) {
      for (Path file : files.toList()) {
        Files.copy(file, to.resolve(from.relativize(file).toString()));
      }
      return to;
    } catch (IOException e) {
      throw new UncheckedIOException(from + " cannot be copied to " + to, e);
    }
  }

  /** Every file below a folder with its bytes in hexadecimal, by name; folders with an empty text. */
  static SortedMap<String, String> bytes(Path folder) {
    SortedMap<String, String> all = new TreeMap<>();
    try (Stream<Path> files = Files.walk(folder)) {
      for (Path file : files.toList()) {
        all.put(
            folder.relativize(file).toString(),
            Files.isDirectory(file) ? "" : HexFormat.of().formatHex(Files.readAllBytes(file)));
      }
      return all;
    } catch (IOException e) {
      throw new UncheckedIOException(folder + " cannot be read", e);
    }
  }

  /** The text of a file. */
  static String text(Path file) {
    try {
      return Files.readString(file);
    } catch (IOException e) {
      throw new UncheckedIOException(file + " cannot be read", e);
    }
  }
}
