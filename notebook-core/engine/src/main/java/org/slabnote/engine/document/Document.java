package org.slabnote.engine.document;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Problem;

/**
 * The notebook cut into blocks, in order.
 *
 * <p>A cell is a fenced block {@code ```java NAME}, data a fenced block {@code ```csv NAME}, both at
 * the left margin. Names are of letters, digits, {@code -} and {@code _}, begin with a letter, and
 * stand once in a notebook, cells and data together, since addresses are made of them. Every other
 * fenced block is prose.
 *
 * @param file name of the file, as messages give it
 * @param text the whole text as it stands in the file
 * @param blocks the blocks in order; together they are the whole text
 * @param problems what is wrong with the blocks; a block in doubt is still listed where that can be
 * @since 0.1
 */
public record Document(String file, String text, List<Block> blocks, List<Problem> problems) {

  /** Copies the lists. */
  public Document {
    blocks = List.copyOf(blocks);
    problems = List.copyOf(problems);
  }

  /** Cuts the text into blocks; what is wrong is listed in {@link #problems()}. */
  public static Document parse(String file, String text) {
    return new Blocks(file, text).document();
  }

  /** The document itself when nothing is wrong with its blocks. */
  public Document orRefuse() throws BadInput {
    if (!problems.isEmpty()) {
      throw new BadInput(problems);
    }
    return this;
  }

  /** The cells, in order. */
  public List<Block.Cell> cells() {
    List<Block.Cell> cells = new ArrayList<>();
    for (Block block : blocks) {
      if (block instanceof Block.Cell cell) {
        cells.add(cell);
      }
    }
    return cells;
  }

  /** The csv blocks, in order. */
  public List<Block.Data> data() {
    List<Block.Data> data = new ArrayList<>();
    for (Block block : blocks) {
      if (block instanceof Block.Data one) {
        data.add(one);
      }
    }
    return data;
  }

  /** The cell or csv block of that name. */
  public Optional<Block.Named> named(String name) {
    for (Block block : blocks) {
      if (block instanceof Block.Named named && named.name().equals(name)) {
        return Optional.of(named);
      }
    }
    return Optional.empty();
  }
}
