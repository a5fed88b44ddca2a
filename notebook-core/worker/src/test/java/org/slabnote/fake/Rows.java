package org.slabnote.fake;

import java.util.List;
import org.slabnote.api.Doubles;
import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Purpose;
import org.slabnote.api.Table;
import org.slabnote.api.Work;

/** A table of the numbers 1 to n. */
@Op(id = "fake.rows", revision = 1, purpose = Purpose.TABLE)
public record Rows(int n) implements Operation<Table> {
  @Override
  public Table apply(Work work) {
    double[] cells = new double[n];
    work.forEach(n, i -> work.forEach(2, j -> cells[i] += j * (i + 1)));
    return new Table(List.of(new Table.Numbers("n", Doubles.of(cells), 0)));
  }
}
