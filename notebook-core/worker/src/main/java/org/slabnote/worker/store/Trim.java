package org.slabnote.worker.store;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.BasicFileAttributes;
import java.nio.file.attribute.FileTime;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;

/** Deletes old values. */
final class Trim {
  private static final long DAY = TimeUnit.DAYS.toMillis(1);

  private final Path values;
  private final Path parts;

  private record Entry(Path file, long size, long written) {}

  Trim(Path values, Path parts) {
    this.values = values;
    this.parts = parts;
  }

  void to(long most) throws IOException {
    List<Entry> entries = entries(values);
    entries.sort(Comparator.comparingLong(Entry::written).thenComparing(Entry::file));
    long size = entries.stream().mapToLong(Entry::size).sum();
    for (Entry entry : entries) {
      if (size <= most) {
        break;
      }
      Files.deleteIfExists(entry.file());
      size -= entry.size();
    }
    long now = System.currentTimeMillis();
    for (Entry part : entries(parts)) {
      if (now - part.written() > DAY) {
        Files.deleteIfExists(part.file());
      }
    }
  }

  private static List<Entry> entries(Path folder) throws IOException {
    List<Entry> entries = new ArrayList<>();
    if (!Files.isDirectory(folder)) {
      return entries;
    }
    try (Stream<Path> files = Files.walk(folder)) {
      for (Path file : (Iterable<Path>) files.filter(Files::isRegularFile)::iterator) {
        try {
          BasicFileAttributes a = Files.readAttributes(file, BasicFileAttributes.class);
          FileTime written = a.lastModifiedTime();
          entries.add(new Entry(file, a.size(), written.toMillis()));
        } catch (java.nio.file.NoSuchFileException e) {
          continue; // another process was faster
        }
      }
    }
    return entries;
  }
}
