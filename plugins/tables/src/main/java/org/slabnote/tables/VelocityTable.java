package org.slabnote.tables;

import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Purpose;
import org.slabnote.api.Step;
import org.slabnote.api.Table;
import org.slabnote.api.VelocityEstimate;
import org.slabnote.api.Work;

/**
 * Velocity determinations: the one used first, then those it was made of.
 *
 * <p>Columns: {@code method, v_m_per_ns, v_u_m_per_ns} (standard uncertainty), {@code permittivity,
 * permittivity_u, evidence}.
 *
 * @param velocity the estimate used
 * @since 0.1
 */
@Op(id = "tables.velocity", revision = 1, purpose = Purpose.TABLE)
public record VelocityTable(Step<VelocityEstimate> velocity) implements Operation<Table> {
  @Override
  public Table apply(Work work) {
    Sheet sheet = new Sheet()
        .text("method")
        .number("v_m_per_ns", 5)
        .number("v_u_m_per_ns", 5)
        .number("permittivity", 3)
        .number("permittivity_u", 3)
        .text("evidence");
    VelocityEstimate used = velocity.get();
    add(sheet, used);
    for (VelocityEstimate member : used.members()) {
      work.checkCancelled();
      add(sheet, member);
    }
    work.progress(1);
    return sheet.toTable();
  }

  private static void add(Sheet sheet, VelocityEstimate v) {
    sheet.row(
        v.method(),
        v.velocity().value().value(),
        v.velocity().u().value(),
        v.permittivity().value().value(),
        v.permittivity().u().value(),
        v.evidence());
  }
}
