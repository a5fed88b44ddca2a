package org.slabnote.probe;

import java.util.List;
import org.slabnote.api.Doubles;
import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Purpose;
import org.slabnote.api.Step;
import org.slabnote.api.Steps;
import org.slabnote.api.Table;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Measured;
import org.slabnote.api.quantity.Ratio;

/** A table of levels. */
@Op(id = "probe.levels", revision = 1, purpose = Purpose.TABLE)
public record Levels(Steps<Measured<Ratio>> levels) implements Operation<Table> {
  @Override
  public Table apply(Work work) {
    Tally.count("levels");
    double[] values = new double[levels.names().size()];
    for (int i = 0; i < values.length; i++) {
      Step<Measured<Ratio>> one = levels.of(levels.names().get(i));
      values[i] = one.get().value().value();
    }
    return new Table(List.of(
        new Table.Text("pass", levels.names()),
        new Table.Numbers("level_1", Doubles.of(values), 3)));
  }
}
