package org.slabnote.tables;

import java.util.Locale;
import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Point;
import org.slabnote.api.Purpose;
import org.slabnote.api.Step;
import org.slabnote.api.Table;
import org.slabnote.api.Target;
import org.slabnote.api.TargetClass;
import org.slabnote.api.Targets;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Angle;

/**
 * The target schedule: a row per finding.
 *
 * <p>Columns: {@code name, kind} (likeliest class, {@code not classified} where there is none), {@code
 * x_m, y_m, x2_m, y2_m} (second end empty for a point seen on one pass), {@code depth_m} from the
 * scanned face to {@code reference}, {@code depth_u95_m, across_u95_m} (expanded uncertainties, k = 2),
 * {@code diameter_m} (as assumed unless the finding says otherwise), {@code strike_deg} from +x towards
 * +y, {@code pair_ratio_db, pair_ratio_u_db} (standard uncertainty), {@code probability} of the kind,
 * {@code alternatives, status, evidence}.
 *
 * <p>Source: contents as ASTM D6432 and common practice ask of a schedule; layout ours.
 *
 * @param targets findings
 * @since 0.1
 */
@Op(id = "tables.target-schedule", revision = 1, purpose = Purpose.TABLE)
public record TargetSchedule(Step<Targets> targets) implements Operation<Table> {
  @Override
  public Table apply(Work work) {
    Sheet sheet = new Sheet()
        .text("name")
        .text("kind")
        .number("x_m", 3)
        .number("y_m", 3)
        .number("x2_m", 3)
        .number("y2_m", 3)
        .number("depth_m", 4)
        .number("depth_u95_m", 4)
        .number("across_u95_m", 4)
        .text("reference")
        .number("diameter_m", 4)
        .number("strike_deg", 1)
        .number("pair_ratio_db", 2)
        .number("pair_ratio_u_db", 2)
        .number("probability", 3)
        .text("alternatives")
        .text("status")
        .text("evidence");
    for (Target t : targets.get().list()) {
      work.checkCancelled();
      sheet.row(
          t.name(),
          t.likeliest().map(TargetSchedule::words).orElse("not classified"),
          t.start().x().value(),
          t.start().y().value(),
          t.end().map(p -> p.x().value()).orElse(Double.NaN),
          t.end().map(Point::y).map(y -> y.value()).orElse(Double.NaN),
          t.depth().value().value(),
          t.depth().u95().value(),
          t.across().u95().value(),
          words(t.reference()),
          t.diameter().value().value(),
          t.strike().map(TargetSchedule::strike).orElse(Double.NaN),
          t.pairRatio().map(p -> p.ratio().value().value()).orElse(Double.NaN),
          t.pairRatio().map(p -> p.ratio().u().value()).orElse(Double.NaN),
          probability(t),
          t.alternatives(),
          words(t.status()),
          String.join(" ", t.evidence()));
    }
    work.progress(1);
    return sheet.toTable();
  }

  /** A strike that would be shown as 180 degrees is shown as 0: an axis has no head. */
  private static double strike(Angle angle) {
    return angle.value() >= 179.95 ? 0 : angle.value();
  }

  private static double probability(Target target) {
    return target.likeliest().map(target.classes()::get).orElse(Double.NaN);
  }

  /** Returns an enum constant as a person writes it: {@code NON_METAL} as {@code non-metal}. */
  static String words(TargetClass kind) {
    return kind.name().toLowerCase(Locale.ROOT).replace('_', '-');
  }

  /** Returns any other constant in words: {@code NOT_RESOLVED} as {@code not resolved}. */
  static String words(Enum<?> constant) {
    return constant.name().toLowerCase(Locale.ROOT).replace('_', ' ');
  }
}
