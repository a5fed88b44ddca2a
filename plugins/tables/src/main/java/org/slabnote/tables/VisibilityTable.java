package org.slabnote.tables;

import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Purpose;
import org.slabnote.api.Step;
import org.slabnote.api.Table;
import org.slabnote.api.Visibility;
import org.slabnote.api.Work;

/**
 * What could have been seen: a row per scan, then a row per part of the slab that could not be seen.
 *
 * <p>Columns: {@code part} (pass and channel, or {@code not seen}), {@code x_m, y_m, x2_m, y2_m, seen_to_m}
 * (for parts not seen: the depth below which nothing was seen), {@code smallest_m} (diameter of the
 * smallest metal bar that would have stood out at that depth), {@code half_width_m, basis}.
 *
 * @param visibility what could have been seen
 * @since 0.1
 */
@Op(id = "tables.visibility", revision = 1, purpose = Purpose.TABLE)
public record VisibilityTable(Step<Visibility> visibility) implements Operation<Table> {
  @Override
  public Table apply(Work work) {
    Sheet sheet = new Sheet()
        .text("part")
        .number("x_m", 3)
        .number("y_m", 3)
        .number("x2_m", 3)
        .number("y2_m", 3)
        .number("seen_to_m", 3)
        .number("smallest_m", 4)
        .number("half_width_m", 3)
        .text("basis");
    Visibility seen = visibility.get();
    for (Visibility.Sight s : seen.sights()) {
      work.checkCancelled();
      sheet.row(
          s.pass() + " " + s.channel(),
          s.start().x().value(),
          s.start().y().value(),
          s.end().x().value(),
          s.end().y().value(),
          s.reach().value(),
          s.smallest().value(),
          s.halfWidth().value(),
          s.basis());
    }
    for (Visibility.Unseen u : seen.unseen()) {
      work.checkCancelled();
      sheet.row(
          "not seen",
          u.from().x().value(),
          u.from().y().value(),
          u.to().x().value(),
          u.to().y().value(),
          u.below().value(),
          Double.NaN,
          Double.NaN,
          u.why());
    }
    work.progress(1);
    return sheet.toTable();
  }
}
