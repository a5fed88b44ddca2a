package org.slabnote.worker;

import java.util.Base64;
import java.util.HashSet;
import java.util.List;
import java.util.Set;

/**
 * The compiled cells of a notebook, ready to be replayed in order.
 *
 * <p>The line numbers in the class files are lines within the cell, from 1, and a class names no
 * other line. Places told to people are lines of the notebook file: {@code firstLine - 1 + line}.
 *
 * @param cells cells in document order
 * @param snippets statements in document order
 * @param classes every class that the statements need, in any order
 * @since 0.1
 */
public record Tape(List<Cell> cells, List<Snippet> snippets, List<CellClass> classes) {

  /**
   * Checks that names are used once and snippets name cells.
   *
   * @throws IllegalArgumentException if two cells or classes share a name, or a snippet or class
   *     names no cell
   */
  public Tape {
    cells = List.copyOf(cells);
    snippets = List.copyOf(snippets);
    classes = List.copyOf(classes);
    Set<String> names = new HashSet<>();
    for (Cell cell : cells) {
      if (!names.add(cell.name())) {
        throw new IllegalArgumentException("tape with two cells " + cell.name() + "; expected one");
      }
    }
    for (Snippet snippet : snippets) {
      if (!names.contains(snippet.cell())) {
        throw new IllegalArgumentException(
            "snippet of cell " + snippet.cell() + ", which the tape does not have");
      }
    }
    Set<String> types = new HashSet<>();
    for (CellClass one : classes) {
      if (!types.add(one.name()) || !names.contains(one.cell())) {
        throw new IllegalArgumentException("class " + one.name() + " of cell " + one.cell()
            + ": expected one class of that name, and a cell of the tape");
      }
    }
  }

  /** Returns a cell; the tape has it. */
  public Cell cell(String name) {
    return cells.stream().filter(c -> c.name().equals(name)).findFirst().orElseThrow();
  }

  /**
   * A cell.
   *
   * @param name name
   * @param firstLine line in the notebook file, from 1, of the cell's first line of code
   * @param sha256 digest of its text, 64 lower-case hexadecimal digits
   */
  public record Cell(String name, int firstLine, String sha256) {}

  /**
   * A statement.
   *
   * @param cell name of the cell
   * @param line line in the notebook file, from 1, on which it begins
   * @param source its text
   * @param wrapper binary name of the class that holds it; empty for an import
   * @param method static method without parameters to call; empty where there is nothing to call
   * @param variable variable it declares, a static field of the wrapper; empty where it declares
   *     none
   */
  public record Snippet(
      String cell, int line, String source, String wrapper, String method, String variable) {}

  /**
   * A class file.
   *
   * @param name binary name
   * @param cell the cell it came from
   * @param base64 its bytes (RFC 4648, section 4)
   * @param meaning digest of what it and all classes of cells that it names do: part of the key of an
   *     operation that it declares. Lines and numbers of statements do not count in it, so that an
   *     edit elsewhere leaves it as it is; empty where it is to be taken from the bytes
   */
  public record CellClass(String name, String cell, String base64, String meaning) {
    /** Returns a class of these bytes, whose bytes are its meaning. */
    public static CellClass of(String name, String cell, byte[] bytes) {
      return of(name, cell, bytes, "");
    }

    /** Returns a class of these bytes. */
    public static CellClass of(String name, String cell, byte[] bytes, String meaning) {
      return new CellClass(name, cell, Base64.getEncoder().encodeToString(bytes), meaning);
    }

    /** Returns a copy of the bytes. */
    public byte[] bytes() {
      return Base64.getDecoder().decode(base64);
    }
  }
}
