package org.slabnote.app;

import java.io.PrintStream;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.slabnote.api.Conclusion;
import org.slabnote.api.Event;
import org.slabnote.api.EventState;
import org.slabnote.api.Point;
import org.slabnote.api.Table;
import org.slabnote.api.Target;
import org.slabnote.api.TargetClass;
import org.slabnote.api.Targets;
import org.slabnote.api.VelocityEstimate;
import org.slabnote.api.Visibility;
import org.slabnote.api.quantity.Measured;
import org.slabnote.api.quantity.Units;
import org.slabnote.engine.job.Job;
import org.slabnote.engine.record.Demand;
import org.slabnote.engine.run.Outcome;
import org.slabnote.report.Cautions;

/** What a run found, as text. */
final class Summary {
  private final Terminal terminal;
  private final PrintStream out;
  private final Outcome outcome;
  private final Path job;

  Summary(Terminal terminal, Outcome outcome, Path job) {
    this.terminal = terminal;
    this.out = terminal.out();
    this.outcome = outcome;
    this.job = job;
  }

  void print() {
    out.println(terminal.heading(outcome.job().sheet().title()));
    outcome.findings().ifPresent(this::findings);
    velocity().ifPresent(this::velocity);
    acquisition();
    outcome.ledger().ifPresent(ledger -> events(ledger.list()));
    outcome.seen().ifPresent(this::seen);
    conclusions();
    out.println();
    out.println(terminal.heading("Cautions"));
    paragraph(Cautions.FIRST);
    out.println();
    out.println("Record: " + job.resolve(Job.RECORD));
    out.println("Report: slabnote report " + job);
  }

  private void findings(Targets targets) {
    out.println();
    out.println(terminal.heading("Findings")
        + " (depth from the scanned face, mm; +- is U95, k = 2; places in m)");
    if (targets.list().isEmpty()) {
      out.println("  none. That nothing was detected does not say that nothing is there");
      return;
    }
    List<List<String>> rows = new ArrayList<>();
    rows.add(List.of("name", "kind", "depth", "+-", "to", "place", "status"));
    for (Target target : targets.list()) {
      rows.add(row(target));
    }
    Aligned.lines(rows, 2, 3).forEach(line -> out.println("  " + line));
  }

  private static List<String> row(Target target) {
    return List.of(
        target.name(),
        kind(target),
        millimetres(target.depth().value().value()),
        millimetres(target.depth().u95().value()),
        lower(target.reference()),
        place(target.start()) + target.end().map(end -> " to " + place(end)).orElse(""),
        lower(target.status()));
  }

  private static String kind(Target target) {
    Optional<TargetClass> likeliest = target.likeliest();
    return likeliest
        .map(one -> lower(one) + " " + Units.fixed(target.classes().getOrDefault(one, 0.0), 2))
        .orElse("not classified");
  }

  private static String lower(Enum<?> constant) {
    return constant.name().toLowerCase(Locale.ROOT).replace('_', ' ');
  }

  private static String place(Point point) {
    return "(" + Units.fixed(point.x().value(), 3) + ", "
        + Units.fixed(point.y().value(), 3) + ")";
  }

  private static String millimetres(double metres) {
    return Units.fixed(1000 * metres, 0);
  }

  /** The velocity that was combined of most determinations, of those the notebook asked for. */
  private Optional<VelocityEstimate> velocity() {
    Optional<VelocityEstimate> found = Optional.empty();
    for (Object value : outcome.facts().values().values()) {
      if (value instanceof VelocityEstimate v
          && (found.isEmpty() || v.members().size() >= found.get().members().size())) {
        found = Optional.of(v);
      }
    }
    return found;
  }

  private void velocity(VelocityEstimate velocity) {
    Measured<?> v = velocity.velocity();
    Measured<?> eps = velocity.permittivity();
    out.println();
    out.println(terminal.heading("Velocity"));
    paragraph(
        Units.fixed(v.value().value(), 4) + " m/ns +- " + Units.fixed(v.u95().value(), 4)
            + ", permittivity " + Units.fixed(eps.value().value(), 2) + " +- "
            + Units.fixed(eps.u95().value(), 2) + ": " + velocity.method()
            + (velocity.evidence().isBlank() ? "" : "; " + velocity.evidence()));
  }

  /** Flags of the acquisition checks, where the notebook has a table of that name. */
  private void acquisition() {
    Optional<Table> table = outcome.demands().stream()
        .filter(d -> d.kind() == Demand.Kind.TABLE && d.name().equals("acquisition"))
        .flatMap(d -> outcome.value(d.address()).stream())
        .filter(Table.class::isInstance)
        .map(Table.class::cast)
        .findFirst();
    table.ifPresent(checks -> {
      long flagged = flagged(checks);
      if (flagged > 0) {
        out.println();
        out.println(terminal.heading("Acquisition"));
        paragraph(flagged + (flagged == 1 ? " check is" : " checks are")
            + " flagged and unanswered: slabnote table " + job + " acquisition");
      }
    });
  }

  private static long flagged(Table checks) {
    for (Table.Column column : checks.columns()) {
      if (column.name().equals("verdict")) {
        long count = 0;
        for (int i = 0; i < column.size(); i++) {
          count += column.text(i).startsWith("flag") ? 1 : 0;
        }
        return count;
      }
    }
    return 0;
  }

  private void events(List<Event> events) {
    Map<EventState, Integer> count = new java.util.EnumMap<>(EventState.class);
    events.forEach(event -> count.merge(event.state(), 1, Integer::sum));
    out.println();
    out.println(terminal.heading("Events"));
    paragraph(events.size() + " above clutter: " + count.getOrDefault(EventState.EXPLAINED, 0)
        + " explained, " + count.getOrDefault(EventState.REJECTED, 0) + " rejected with a reason, "
        + count.getOrDefault(EventState.OPEN, 0) + " open");
  }

  private void seen(Visibility seen) {
    out.println();
    out.println(terminal.heading("Seen"));
    if (seen.sights().isEmpty()) {
      paragraph("nothing: no scan was read");
      return;
    }
    double least =
        seen.sights().stream().mapToDouble(sight -> sight.reach().value()).min().orElse(0);
    double most =
        seen.sights().stream().mapToDouble(sight -> sight.reach().value()).max().orElse(0);
    paragraph(seen.sights().size() + (seen.sights().size() == 1 ? " scan" : " scans")
        + ", down to " + millimetres(least) + " mm"
        + (millimetres(least).equals(millimetres(most)) ? "" : " to " + millimetres(most) + " mm")
        + "; " + seen.unseen().size() + (seen.unseen().size() == 1 ? " part" : " parts")
        + " of the slab not seen");
  }

  private void conclusions() {
    List<Conclusion> conclusions = outcome.conclusions();
    if (conclusions.isEmpty()) {
      return;
    }
    out.println();
    out.println(terminal.heading("Conclusions"));
    for (Conclusion conclusion : conclusions) {
      out.println("  " + conclusion.subject() + ": " + conclusion.verdict().words());
      out.println(Aligned.wrapped(conclusion.statement(), "    ", width()));
      conclusion
          .margin()
          .ifPresent(margin -> out.println("    margin "
              + millimetres(margin.value().value()) + " mm +- "
              + millimetres(margin.u95().value())
              + " mm (positive is farther than required)"));
    }
  }

  private void paragraph(String text) {
    out.println(Aligned.wrapped(text, "  ", width()));
  }

  private int width() {
    return Math.min(100, terminal.width());
  }
}
