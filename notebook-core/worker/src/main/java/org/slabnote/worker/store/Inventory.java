package org.slabnote.worker.store;

import java.io.IOException;
import java.nio.file.DirectoryNotEmptyException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.slabnote.api.codec.Canonical;

/** Goes through a whole store, for whoever looks after it. */
final class Inventory {
  private final Shelves shelves;

  Inventory(Shelves shelves) {
    this.shelves = shelves;
  }

  StoreFacts facts() throws IOException {
    List<Shelves.Entry> keys = Shelves.entries(shelves.keys);
    List<Shelves.Entry> values = Shelves.entries(shelves.values);
    List<Shelves.Entry> all = new ArrayList<>(keys);
    all.addAll(values);
    return new StoreFacts(
        keys.size(),
        values.size(),
        all.stream().mapToLong(Shelves.Entry::bytes).sum(),
        all.stream().map(Shelves.Entry::used).min(Long::compare).map(Instant::ofEpochMilli),
        all.stream().map(Shelves.Entry::used).max(Long::compare).map(Instant::ofEpochMilli));
  }

  StoreCheck verify() throws IOException {
    List<Path> damaged = new ArrayList<>();
    Set<String> whole = new HashSet<>();
    long bytes = 0;
    for (Shelves.Entry value : Shelves.entries(shelves.values)) {
      Optional<byte[]> read = read(value.file());
      if (read.isEmpty()) {
        continue; // another process trimmed it
      }
      if (Canonical.sha256(read.get()).equals(value.digest())) {
        whole.add(value.digest());
        bytes += read.get().length;
      } else {
        Shelves.delete(value.file());
        damaged.add(value.file());
      }
    }
    int keys = 0;
    int astray = 0;
    for (Shelves.Entry key : Shelves.entries(shelves.keys)) {
      Optional<String> digest = KeyLine.read(shelves, key.digest());
      if (digest.isEmpty()) {
        damaged.add(key.file());
      } else if (whole.contains(digest.get())
          || Files.exists(Shelves.place(shelves.values, digest.get()))) {
        keys++; // the second: written meanwhile
      } else {
        Shelves.delete(key.file());
        astray++;
      }
    }
    return new StoreCheck(keys, whole.size(), bytes, damaged, astray, foreign());
  }

  private static Optional<byte[]> read(Path file) throws IOException {
    try {
      return Optional.of(KeyLine.content(file, Integer.MAX_VALUE - 9));
    } catch (NoSuchFileException e) {
      return Optional.empty();
    }
  }

  private List<Path> foreign() throws IOException {
    List<Path> foreign = new ArrayList<>();
    for (Path folder : List.of(shelves.keys, shelves.values)) {
      for (Path shelf : Shelves.names(folder)) {
        if (!Shelves.isShelf(shelf)) {
          foreign.add(shelf);
          continue;
        }
        for (Path file : Shelves.names(shelf)) {
          if (!Shelves.isOurs(file) && Files.exists(file, LinkOption.NOFOLLOW_LINKS)) {
            foreign.add(file);
          }
        }
      }
    }
    foreign.sort(null);
    return foreign;
  }

  StoreFacts clear() throws IOException {
    StoreFacts before = facts();
    for (Path folder : List.of(shelves.keys, shelves.values)) {
      for (Shelves.Entry entry : Shelves.entries(folder)) {
        Shelves.delete(entry.file());
      }
      for (Path shelf : Shelves.names(folder)) {
        if (Shelves.isShelf(shelf)) {
          removeEmpty(shelf);
        }
      }
      removeEmpty(folder);
    }
    for (Shelves.Entry part : shelves.partEntries()) {
      Shelves.delete(part.file());
    }
    removeEmpty(shelves.parts);
    Files.deleteIfExists(shelves.root.resolve("untidied"));
    removeEmpty(shelves.root);
    return before;
  }

  private static void removeEmpty(Path folder) throws IOException {
    try {
      if (Files.isDirectory(folder, LinkOption.NOFOLLOW_LINKS)) {
        Files.delete(folder);
      }
    } catch (DirectoryNotEmptyException | NoSuchFileException e) {
      return; // something that is not ours, or written meanwhile
    }
  }
}
