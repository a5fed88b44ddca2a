package org.slabnote.app.create;

import java.util.List;
import java.util.stream.Collectors;
import org.slabnote.api.quantity.Units;
import org.slabnote.report.Cautions;

/**
 * Writes the starter notebook: a standard reading of a survey, with the settings that follow from its
 * frequencies, and prose that says why each step is taken and what it can harm.
 *
 * <p>Texts of the sections are resources beside this class; {@code {name}} in them stands for a fact of
 * the survey.
 */
final class StarterNotebook {
  private final SurveyFacts facts;
  private final StringBuilder out = new StringBuilder();

  private StarterNotebook(SurveyFacts facts) {
    this.facts = facts;
  }

  /** The notebook's text. */
  static String text(SurveyFacts facts) {
    return new StarterNotebook(facts).write();
  }

  private String write() {
    boolean across = !facts.across().isEmpty();
    boolean mixed = across && !facts.alongOnly().isEmpty();
    boolean both = !facts.both().isEmpty();
    boolean several = facts.read().size() > 1;
    add("opening");
    if (facts.otherScans() > 0) {
      add("other-scans");
    }
    add("acquisition");
    add(!across ? "zero-along" : mixed ? "zero-mixed" : both ? "zero-both" : "zero-across");
    add("cleaning");
    if (facts.coarse()) {
      add("coarse");
    }
    add("velocity");
    add("detection");
    add(several ? "linking" : "one-pass");
    add(both ? "polarization" : "no-pairs");
    add("ledger");
    add("figures");
    add("seen");
    add("schedule");
    if (!facts.cuts().isEmpty()) {
      add("clearances");
    }
    add("by-hand");
    add("cautions");
    return out.toString();
  }

  private void add(String section) {
    out.append(out.isEmpty() ? "" : "\n").append(filled(Texts.of(section)));
  }

  private String filled(String text) {
    boolean across = !facts.across().isEmpty();
    boolean mixed = across && !facts.alongOnly().isEmpty();
    String main = across ? "across" : "along";
    return text.replace("{title}", facts.title())
        .replace("{survey}", survey())
        .replace("{frequency}", frequency())
        .replace("{dewow}", Units.plain(facts.dewow(), 4))
        .replace("{low}", Units.plain(facts.bandLow(), 6))
        .replace("{high}", Units.plain(facts.bandHigh(), 6))
        .replace("{main}", main)
        .replace("{echoes}", mixed ? "leadEcho" : main + "Echo")
        .replace("{bases}", mixed ? "leadBase" : main + "Base")
        .replace("{lead}", mixed ? Texts.of("lead") : "")
        .replace("{antenna}", facts.readRows().isEmpty() ? "0" : firstRead())
        .replace(
            "{shown}",
            facts.shown().stream().map(pass -> '"' + pass + '"').collect(Collectors.joining(", ")))
        .replace("{hand}", facts.shown().isEmpty() ? "E01" : facts.shown().get(0))
        .replace("{others}", Integer.toString(facts.otherScans()))
        .replace("{step}", Units.plain(facts.sectionStep(), 4))
        .replace("{depth}", Units.plain(facts.sectionDepth(), 4))
        .replace(
            "{cuts}",
            facts.cuts().stream().map(cut -> cut.name()).collect(Collectors.joining(", ")))
        .replace("{cautions}", cautions());
  }

  private String firstRead() {
    return Integer.toString(facts.survey().rows().indexOf(facts.readRows().get(0)));
  }

  private String survey() {
    int passes = facts.read().size();
    if (passes == 0) {
      return "No scan with both dipoles across the travel, or both along it; " + frequency() + ".";
    }
    int ways = facts.byDirection().size();
    String orientations = facts.along().isEmpty()
        ? "all with the dipoles across the travel"
        : facts.across().isEmpty()
            ? "all with the dipoles along the travel"
            : facts.both().size() == passes
                ? "each with the dipoles across the travel and along it"
                : facts.across().size() + " with the dipoles across the travel, "
                    + facts.along().size() + " along it"
                    + (facts.both().isEmpty() ? "" : ", " + facts.both().size() + " of them both");
    return (passes == 1
            ? "One pass"
            : passes + " passes in "
                + (ways == 1
                    ? "one direction"
                    : ways == 2 ? "two directions" : ways + " directions"))
        + ", "
        + (passes == 1 ? orientations.replace("all ", "").replace("each ", "") : orientations)
        + "; " + frequency() + ".";
  }

  private String frequency() {
    String low = Units.plain(facts.lowest(), 6);
    String high = Units.plain(facts.highest(), 6);
    return low.equals(high)
        ? "centre frequency " + low + " MHz"
        : "centre frequencies " + low + " to " + high + " MHz";
  }

  private static String cautions() {
    List<String> all = Cautions.all();
    return all.stream().map(one -> "- " + one).collect(Collectors.joining("\n"));
  }
}
