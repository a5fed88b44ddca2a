package org.slabnote.engine.job;

import java.util.ArrayList;
import java.util.List;
import org.slabnote.api.Table;
import org.slabnote.engine.document.Block;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Problem;

/**
 * A csv block of the notebook as a table of text: a header line, then rows of as many cells.
 *
 * @since 0.1
 */
public final class CsvBlock {
  private CsvBlock() {}

  /**
   * Parses a block.
   *
   * @param file the notebook's name, for messages
   * @throws BadInput with each problem, each with the block's name and the line in the file
   */
  public static Table parse(String file, Block.Data block) throws BadInput {
    int before = block.content().firstLine() - 1;
    List<Problem> problems = new ArrayList<>();
    CsvFile csv = CsvFile.ofAnyColumns(block.name(), block.source(), problems);
    if (!problems.isEmpty()) {
      List<Problem> placed = new ArrayList<>();
      for (Problem one : problems) {
        int line = one.line() == 0 ? block.span().firstLine() : before + one.line();
        placed.add(new Problem(Problem.Kind.NOTEBOOK, file, line, block.name(), one.message()));
      }
      throw new BadInput(placed);
    }
    List<Table.Column> columns = new ArrayList<>();
    for (String name : csv.columns()) {
      columns.add(
          new Table.Text(name, csv.rows().stream().map(row -> row.text(name)).toList()));
    }
    return new Table(columns);
  }
}
