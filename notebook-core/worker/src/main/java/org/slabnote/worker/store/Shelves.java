package org.slabnote.worker.store;

import java.io.IOException;
import java.nio.file.DirectoryIteratorException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.NoSuchFileException;
import java.nio.file.NotDirectoryException;
import java.nio.file.Path;
import java.nio.file.attribute.BasicFileAttributes;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.regex.Pattern;

/**
 * The files of a store by their names. Whatever has another name than the store gives, and whatever is
 * a link, is somebody else's: it is neither followed nor counted nor deleted.
 */
final class Shelves {
  /** Files take whole blocks of most file systems. */
  private static final long BLOCK = 4096;

  private static final Pattern DIGEST = Pattern.compile("[0-9a-f]{64}");
  private static final Pattern SHELF = Pattern.compile("[0-9a-f]{2}");
  private static final Pattern NAME = Pattern.compile("[0-9a-f]{62}");

  final Path root;
  final Path keys;
  final Path values;
  final Path parts;

  Shelves(Path root) {
    this.root = root;
    keys = root.resolve("keys");
    values = root.resolve("values");
    parts = root.resolve("parts");
  }

  /**
   * A file of the store.
   *
   * @param file its place
   * @param bytes what it takes on the disk
   * @param used when it was last used, milliseconds since 1970 by the file system's clock
   */
  record Entry(Path file, long bytes, long used) {
    /** The key or digest that the file's place stands for. */
    String digest() {
      int names = file.getNameCount();
      return file.getName(names - 2).toString() + file.getFileName();
    }
  }

  static Path place(Path folder, String digest) {
    if (!DIGEST.matcher(digest).matches()) {
      throw new IllegalArgumentException(
          "name in the store: " + digest + "; expected 64 lower-case hexadecimal digits");
    }
    return folder.resolve(digest.substring(0, 2)).resolve(digest.substring(2));
  }

  /** Returns the files below one of the folders; what vanishes meanwhile is left out. */
  static List<Entry> entries(Path folder) throws IOException {
    List<Entry> entries = new ArrayList<>();
    for (Path shelf : names(folder)) {
      if (isShelf(shelf)) {
        for (Path file : names(shelf)) {
          if (NAME.matcher(file.getFileName().toString()).matches()) {
            entry(file).ifPresent(entries::add);
          }
        }
      }
    }
    return entries;
  }

  static boolean isShelf(Path folder) {
    return SHELF.matcher(folder.getFileName().toString()).matches()
        && Files.isDirectory(folder, LinkOption.NOFOLLOW_LINKS);
  }

  /** Returns whether a file on a shelf is the store's. */
  static boolean isOurs(Path file) {
    return NAME.matcher(file.getFileName().toString()).matches()
        && Files.isRegularFile(file, LinkOption.NOFOLLOW_LINKS);
  }

  /** Returns what is being written, or was when a process was killed. */
  List<Entry> partEntries() throws IOException {
    List<Entry> entries = new ArrayList<>();
    for (Path file : names(parts)) {
      if (file.getFileName().toString().endsWith(".part")) {
        entry(file).ifPresent(entries::add);
      }
    }
    return entries;
  }

  /** Returns the regular file at a place; nothing where there is none. */
  static Optional<Entry> entry(Path file) throws IOException {
    try {
      BasicFileAttributes a =
          Files.readAttributes(file, BasicFileAttributes.class, LinkOption.NOFOLLOW_LINKS);
      long blocks = (a.size() + BLOCK - 1) / BLOCK;
      return a.isRegularFile()
          ? Optional.of(new Entry(file, blocks * BLOCK, a.lastModifiedTime().toMillis()))
          : Optional.empty();
    } catch (NoSuchFileException e) {
      return Optional.empty(); // another process was faster
    }
  }

  /** Returns what is in a folder; nothing where it is not there or a link. */
  static List<Path> names(Path folder) throws IOException {
    List<Path> names = new ArrayList<>();
    if (!Files.isDirectory(folder, LinkOption.NOFOLLOW_LINKS)) {
      return names;
    }
    try (DirectoryStream<Path> all = Files.newDirectoryStream(folder)) {
      all.forEach(names::add);
    } catch (NoSuchFileException | NotDirectoryException e) {
      return names; // gone meanwhile
    } catch (DirectoryIteratorException e) {
      throw e.getCause();
    }
    return names;
  }

  /** Deletes a file of the store, and nothing else that may stand in its place. */
  static boolean delete(Path file) throws IOException {
    return Files.isRegularFile(file, LinkOption.NOFOLLOW_LINKS) && Files.deleteIfExists(file);
  }
}
