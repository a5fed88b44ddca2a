package org.slabnote.tables;

import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Param;
import org.slabnote.api.Purpose;
import org.slabnote.api.Step;
import org.slabnote.api.Table;
import org.slabnote.api.Target;
import org.slabnote.api.TargetClass;
import org.slabnote.api.Targets;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Angle;
import org.slabnote.api.quantity.Length;
import tech.tablesaw.api.DoubleColumn;

/**
 * Cover of the lines that run one way, in numbers: how many, least, mean, greatest, the depth that
 * nine in ten exceed, and the share below a specified cover.
 *
 * <p>Columns: {@code lines_1, least_m, mean_m, greatest_m, exceeded_by_90_percent_m, specified_m,
 * share_below_1}. Planes are left out. The percentile is interpolated linearly between order
 * statistics (Hyndman and Fan 1996, type 6). Share and percentile take depths as told; they carry no
 * uncertainty of their own.
 *
 * @param targets findings
 * @param strike direction of the lines, from +x towards +y
 * @param within how far a line may be off that direction
 * @param specified specified cover
 * @since 0.1
 */
@Op(id = "tables.cover-statistics", revision = 1, purpose = Purpose.TABLE)
public record CoverStatistics(
    Step<Targets> targets,

    @Param(
        meaning = "direction of the lines, from +x towards +y",
        from = "-180 deg",
        to = "180 deg")
    Angle strike,

    @Param(meaning = "how far a line may be off that direction", from = "0 deg", to = "90 deg")
    Angle within,

    @Param(meaning = "specified cover", from = "0 mm", to = "2 m")
    Length specified)
    implements Operation<Table> {

  @Override
  public Table apply(Work work) {
    work.checkCancelled();
    DoubleColumn depths = DoubleColumn.create("depth_m");
    for (Target t : targets.get().list()) {
      boolean plane = t.likeliest().filter(c -> c == TargetClass.PLANE).isPresent();
      if (!plane && t.strike().filter(this::alike).isPresent()) {
        depths.append(t.depth().value().value());
      }
    }
    Sheet sheet = new Sheet()
        .number("lines_1", 0)
        .number("least_m", 4)
        .number("mean_m", 4)
        .number("greatest_m", 4)
        .number("exceeded_by_90_percent_m", 4)
        .number("specified_m", 4)
        .number("share_below_1", 3);
    if (!depths.isEmpty()) {
      sheet.row(
          depths.size(),
          depths.min(),
          depths.mean(),
          depths.max(),
          depths.percentile(10),
          specified.value(),
          (double) depths.isLessThan(specified.value()).size() / depths.size());
    }
    work.progress(1);
    return sheet.toTable();
  }

  private boolean alike(Angle other) {
    double off = other.minus(strike).modulo180().value();
    return Math.min(off, 180 - off) <= within.value();
  }
}
