package org.slabnote.tables;

import java.util.SortedMap;
import org.slabnote.api.Conclusion;
import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Purpose;
import org.slabnote.api.Step;
import org.slabnote.api.Steps;
import org.slabnote.api.Table;
import org.slabnote.api.Work;

/**
 * Clearances of the proposed cuts: a row per conclusion.
 *
 * <p>Columns: {@code cut, verdict, nearest} (finding), {@code distance_m, required_m, margin_m,
 * margin_u95_m} (positive is farther than required), {@code contact_probability_1, seen_to_m,
 * smallest_m, statement}. A cell is empty where the conclusion tells no such figure.
 *
 * @param conclusions one per cut
 * @since 0.1
 */
@Op(id = "tables.clearance", revision = 1, purpose = Purpose.TABLE)
public record ClearanceTable(Steps<Conclusion> conclusions) implements Operation<Table> {
  @Override
  public Table apply(Work work) {
    Sheet sheet = new Sheet()
        .text("cut")
        .text("verdict")
        .text("nearest")
        .number("distance_m", 4)
        .number("required_m", 4)
        .number("margin_m", 4)
        .number("margin_u95_m", 4)
        .number("contact_probability_1", 4)
        .number("seen_to_m", 3)
        .number("smallest_m", 4)
        .text("statement");
    for (Step<Conclusion> step : conclusions.list()) {
      work.checkCancelled();
      Conclusion c = step.get();
      sheet.row(
          c.subject(),
          c.verdict().words(),
          c.nearest().orElse(""),
          figure(c.figures(), "distance_m"),
          figure(c.figures(), "required_m"),
          c.margin().map(m -> m.value().value()).orElse(Double.NaN),
          c.margin().map(m -> m.u95().value()).orElse(Double.NaN),
          figure(c.figures(), "contact_probability_1"),
          figure(c.figures(), "seen_to_m"),
          figure(c.figures(), "smallest_m"),
          c.statement());
    }
    work.progress(1);
    return sheet.toTable();
  }

  private static double figure(SortedMap<String, Double> figures, String name) {
    Double value = figures.get(name);
    return value == null ? Double.NaN : value;
  }
}
