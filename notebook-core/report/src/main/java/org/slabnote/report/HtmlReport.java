package org.slabnote.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.slabnote.api.Conclusion;
import org.slabnote.api.Events;
import org.slabnote.api.Targets;
import org.slabnote.api.VelocityEstimate;
import org.slabnote.api.Visibility;
import org.slabnote.engine.record.Demand;
import org.slabnote.engine.record.RunFacts;

/**
 * The report of a job as one self-contained HTML page.
 *
 * <p>Contents follow the list of ASTM D6432 and of ISO/IEC 17025, 7.8.2 (both from memory, in our own
 * words): the question, the conclusions on each cut, findings with uncertainty, plan, how it was
 * found, figures, what could not be seen, open events, limits and cautions, what it was made from.
 * Every figure in it comes from a complete run; nothing is computed here.
 *
 * @since 0.1
 */
public final class HtmlReport {
  private final RunFacts facts;
  private final String record;

  private HtmlReport(RunFacts facts, String record) {
    this.facts = facts;
    this.record = record;
  }

  /**
   * Returns the report.
   *
   * @param facts what a complete run did and found
   * @param recordSha256 digest of the record that the run wrote
   */
  public static String of(RunFacts facts, String recordSha256) {
    return new HtmlReport(facts, recordSha256).page();
  }

  private String page() {
    StringBuilder out = new StringBuilder();
    String title = facts.job().sheet().title();
    out.append("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n")
        .append("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>")
        .append(Svg.escape(title))
        .append("</title>\n<style>\n")
        .append(Style.CSS)
        .append("</style>\n</head>\n<body>\n<main>\n");
    new Opening(facts, record, conclusions(), targets()).write(out);
    new Results(facts, plan(), velocity(), ledger()).write(out);
    new Evidence(facts, velocity(), ledger()).write(out);
    Closing.write(out, facts, record);
    out.append("</main>\n</body>\n</html>\n");
    return out.toString();
  }

  private Plan plan() {
    return new Plan(
        facts.job().survey(),
        targets(),
        facts.job().cuts(),
        conclusions(),
        demanded(Demand.Kind.SEEN, Visibility.class));
  }

  private List<Conclusion> conclusions() {
    List<Conclusion> list = new ArrayList<>();
    for (Demand d : facts.demands()) {
      if (d.kind() == Demand.Kind.CONCLUDE
          && facts.values().get(d.address()) instanceof Conclusion c) {
        list.add(c);
      }
    }
    return list;
  }

  private Optional<Targets> targets() {
    return demanded(Demand.Kind.FINDINGS, Targets.class);
  }

  private Optional<Events> ledger() {
    return demanded(Demand.Kind.LEDGER, Events.class);
  }

  /** Returns the velocity that was told last: by a table, a picture or a read. */
  private Optional<VelocityEstimate> velocity() {
    Optional<VelocityEstimate> found = Optional.empty();
    for (Object value : facts.values().values()) {
      if (value instanceof VelocityEstimate v
          && (found.isEmpty() || v.members().size() >= found.get().members().size())) {
        found = Optional.of(v);
      }
    }
    return found;
  }

  private <T> Optional<T> demanded(Demand.Kind kind, Class<T> type) {
    Optional<T> found = Optional.empty();
    for (Demand d : facts.demands()) {
      Object value = facts.values().get(d.address());
      if (d.kind() == kind && type.isInstance(value)) {
        found = Optional.of(type.cast(value));
      }
    }
    return found;
  }
}
