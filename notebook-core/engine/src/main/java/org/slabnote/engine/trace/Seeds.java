package org.slabnote.engine.trace;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.TreeSet;
import org.slabnote.api.Cut;
import org.slabnote.api.JobSheet;
import org.slabnote.api.SurveyRow;
import org.slabnote.api.TargetClass;
import org.slabnote.api.quantity.Units;
import org.slabnote.engine.compiler.Reading;
import org.slabnote.engine.job.Job;
import org.slabnote.engine.trace.Causes.Cause;
import org.slabnote.worker.RunOutcome.StepFact;
import org.slabnote.worker.Trail;

/** Where a change comes in: what a statement or a step reads that is another now. */
final class Seeds {
  private final Inputs was;
  private final Inputs now;

  Seeds(Inputs was, Inputs now) {
    this.was = was;
    this.now = now;
  }

  /** What a statement read that is another now. */
  Causes ofRead(Trail.Read read) {
    Causes causes = new Causes();
    switch (read.kind()) {
      case BLOCK -> block(read.name()).ifPresent(causes::add);
      case SCANS -> scans(read.name()).forEach(causes::add);
      case SCAN -> {
        SurveyRow before = row(was, read.name());
        SurveyRow after = row(now, read.name());
        if (after == null
            || before != null
                && !before.antenna().orientation().equals(after.antenna().orientation())) {
          causes.add(Cause.words(
              "scan " + pass(read.name()) + " is no longer in the survey table", Job.SURVEY));
        }
      }
      case JOB, SURVEY, CUTS -> part(read).forEach(causes::add);
      case VALUE -> {} // known by its step
    }
    return causes;
  }

  private Optional<Cause> block(String name) {
    String after = now.blocks().get(name);
    if (after == null) {
      return Optional.of(Cause.words("data `" + name + "` is gone", Job.NOTEBOOK));
    }
    return after.equals(was.blocks().get(name))
        ? Optional.empty()
        : Optional.of(Cause.words("data `" + name + "` changed", Job.NOTEBOOK));
  }

  /** Which scans of an orientation there are, and in which order. */
  private List<Cause> scans(String orientation) {
    List<String> before = passes(was, orientation);
    List<String> after = passes(now, orientation);
    if (before.equals(after)) {
      return List.of();
    }
    List<Cause> causes = new ArrayList<>();
    List<String> added = new ArrayList<>(after);
    added.removeAll(before);
    List<String> gone = new ArrayList<>(before);
    gone.removeAll(after);
    added.forEach(pass ->
        causes.add(Cause.words("scan " + pass + " is new in the survey table", Job.SURVEY)));
    gone.forEach(pass ->
        causes.add(Cause.words("scan " + pass + " is no longer in the survey table", Job.SURVEY)));
    if (causes.isEmpty()) {
      causes.add(Cause.words("the order of the survey table changed", Job.SURVEY));
    }
    return causes;
  }

  private static List<String> passes(Inputs inputs, String orientation) {
    List<SurveyRow> rows = inputs.survey().rows().stream()
        .filter(row -> row.antenna().orientation().name().equals(orientation))
        .toList();
    return rows.stream().map(row -> name(row, rows)).toList();
  }

  private static String name(SurveyRow row, List<SurveyRow> among) {
    boolean several =
        among.stream().filter(one -> one.pass().equals(row.pass())).count() > 1;
    return several ? row.pass() + ":" + row.channel() : row.pass();
  }

  /** The pass, with the channel where the survey table has several of it. */
  private String name(SurveyRow row) {
    long rows = was.survey().rows().stream()
        .filter(one -> one.pass().equals(row.pass()))
        .count();
    return rows > 1 ? row.pass() + " (" + row.channel() + ")" : row.pass();
  }

  /** A part of the job sheet, the survey table or the cuts, as far as the statement reads it. */
  private List<Cause> part(Trail.Read read) {
    for (Reading reading : readings(read)) {
      if (!Objects.equals(Parts.value(was, reading), Parts.value(now, reading))) {
        return switch (read.kind()) {
          case JOB -> List.of(sheet(reading));
          case CUTS -> cuts(reading);
          default -> rows();
        };
      }
    }
    return List.of();
  }

  /** The parts that a statement and all it refers to read; the whole where that is not known. */
  private Set<Reading> readings(Trail.Read read) {
    Set<Reading> found = new LinkedHashSet<>();
    Deque<Integer> open = new ArrayDeque<>(List.of(read.statement()));
    Set<Integer> seen = new HashSet<>(open);
    while (!open.isEmpty()) {
      Stated one = was.statements().get(open.remove());
      one.readings().stream().filter(r -> r.of() == read.kind()).forEach(found::add);
      for (int i = 0; i < was.statements().size(); i++) {
        if (one.reads().contains(was.statements().get(i).defines()) && seen.add(i)) {
          open.add(i);
        }
      }
    }
    return found.isEmpty() ? Set.of(new Reading(read.kind(), List.of())) : found;
  }

  private Cause sheet(Reading reading) {
    SortedMap<String, String> before = facts(was.sheet());
    SortedMap<String, String> after = facts(now.sheet());
    List<String> names = new ArrayList<>();
    String start = reading.path().isEmpty() ? "" : reading.path().get(0).substring(1);
    String key = reading.path().size() > 1 ? reading.path().get(1).substring(1) : "";
    for (Map.Entry<String, String> one : changed(before, after).entrySet()) {
      boolean required = one.getKey().startsWith("clearance of ");
      boolean head = Set.of("title", "question", "thickness").contains(one.getKey());
      boolean within = switch (start) {
        case "" -> true;
        case "required" ->
          required && (key.isEmpty() || one.getKey().equals("clearance of " + words(key)));
        case "facts" -> !required && !head && (key.isEmpty() || one.getKey().equals(key));
        default -> one.getKey().equals(start);
      };
      if (within) {
        names.add(one.getKey());
      }
    }
    return Cause.words("the job sheet changed" + list(names), Job.SHEET);
  }

  /** Every fact of a job sheet by its name. */
  static SortedMap<String, String> facts(JobSheet sheet) {
    SortedMap<String, String> facts = new TreeMap<>(sheet.facts());
    facts.put("title", sheet.title());
    facts.put("question", sheet.question());
    sheet.thickness().ifPresent(one -> facts.put("thickness", one.toString()));
    sheet
        .required()
        .forEach((of, length) ->
            facts.put("clearance of " + words(of.name()), Units.plain(length.value(), 9)));
    return facts;
  }

  /** Keys whose value differs. */
  static SortedMap<String, String> changed(
      SortedMap<String, String> before, SortedMap<String, String> after) {
    SortedMap<String, String> changed = new TreeMap<>();
    Set<String> keys = new TreeSet<>(before.keySet());
    keys.addAll(after.keySet());
    for (String key : keys) {
      if (!Objects.equals(before.get(key), after.get(key))) {
        changed.put(key, after.getOrDefault(key, ""));
      }
    }
    return changed;
  }

  /** {@code NON_METAL} as people say it. */
  static String words(String constant) {
    return constant.toLowerCase(Locale.ROOT).replace('_', ' ');
  }

  static String list(List<String> names) {
    return names.isEmpty() ? "" : " (" + String.join(", ", names) + ")";
  }

  /** The proposed cuts that are others; a clearance comes from the job sheet. */
  private List<Cause> cuts(Reading reading) {
    String only = reading.path().isEmpty() || !reading.path().get(0).startsWith("@")
        ? ""
        : reading.path().get(0).substring(1);
    List<Cause> causes = new ArrayList<>();
    Set<String> names = new TreeSet<>();
    List.of(was.cuts(), now.cuts()).forEach(cuts -> cuts.forEach(cut -> names.add(cut.name())));
    for (String name : names) {
      if (only.isEmpty() || only.equals(name)) {
        causes.addAll(cut(name));
      }
    }
    if (causes.isEmpty()) {
      causes.add(Cause.words("the order of the proposed cuts changed", Job.CUTS));
    }
    return new ArrayList<>(new LinkedHashSet<>(causes));
  }

  /** What is another of a cut. */
  List<Cause> cut(String name) {
    Optional<Cut> before = Parts.cut(was, name);
    Optional<Cut> after = Parts.cut(now, name);
    if (before.isEmpty() || after.isEmpty()) {
      String what = after.isPresent() ? " is new" : " is gone";
      return before.equals(after)
          ? List.of()
          : List.of(Cause.words("proposed cut " + name + what, Job.CUTS));
    }
    List<String> fields = new ArrayList<>(Parts.difference(before.get(), after.get()));
    List<Cause> causes = new ArrayList<>();
    if (fields.remove("required")) {
      List<String> classes = new ArrayList<>();
      for (TargetClass one : TargetClass.values()) {
        if (!Objects.equals(
            before.get().required().get(one), after.get().required().get(one))) {
          classes.add("clearance of " + words(one.name()));
        }
      }
      causes.add(Cause.words("the job sheet changed" + list(classes), Job.SHEET));
    }
    if (!fields.isEmpty()) {
      causes.add(Cause.words("proposed cut " + name + " changed" + list(fields), Job.CUTS));
    }
    return causes;
  }

  private List<Cause> rows() {
    List<Cause> causes = new ArrayList<>();
    for (SurveyRow before : was.survey().rows()) {
      SurveyRow after = row(now, address(before));
      if (after == null) {
        causes.add(
            Cause.words("scan " + before.pass() + " is no longer in the survey table", Job.SURVEY));
      } else if (!before.equals(after)) {
        causes.add(row(before, after));
      }
    }
    for (SurveyRow after : now.survey().rows()) {
      if (row(was, address(after)) == null) {
        causes.add(Cause.words("scan " + after.pass() + " is new in the survey table", Job.SURVEY));
      }
    }
    if (causes.isEmpty()) {
      causes.add(Cause.words("the order of the survey table changed", Job.SURVEY));
    }
    return causes;
  }

  private Cause row(SurveyRow before, SurveyRow after) {
    List<String> fields = new ArrayList<>(Parts.difference(before, after));
    fields.replaceAll(field -> field.equals("extra") ? "further columns" : field);
    boolean positions = !Objects.equals(
        before.extra().get(SurveyRow.POSITIONS), after.extra().get(SurveyRow.POSITIONS));
    if (positions && fields.equals(List.of("further columns"))) {
      return Cause.words("the positions of scan " + name(before) + " changed", Job.SURVEY);
    }
    return Cause.words(
        "the survey row of scan " + name(before) + " changed" + list(fields), Job.SURVEY);
  }

  static String address(SurveyRow row) {
    return "scan/" + row.pass() + "/" + row.channel();
  }

  private static String pass(String address) {
    return address.split("/")[1];
  }

  static @org.jspecify.annotations.Nullable SurveyRow row(Inputs inputs, String address) {
    for (SurveyRow row : inputs.survey().rows()) {
      if (address(row).equals(address)) {
        return row;
      }
    }
    return null;
  }

  /** What a step itself depends on, its inputs and its statement apart. */
  Causes ofStep(StepFact step) {
    Causes causes = new Causes();
    if (step.kind() == StepFact.Kind.SCAN) {
      SurveyRow before = row(was, step.address());
      SurveyRow after = row(now, step.address());
      if (before != null && after != null) {
        String file = Job.SCANS + "/" + after.file();
        if (!before.equals(after)) {
          causes.add(row(before, after));
        }
        String digest = was.files().get(Job.SCANS + "/" + before.file());
        if (!Objects.equals(digest, now.files().get(file))) {
          causes.add(new Cause(Causes.Kind.SCAN, name(before), "", file));
        }
      }
    }
    String owner =
        step.kind() == StepFact.Kind.SCAN ? step.operation().replaceAll("\\..*", "") : step.owner();
    if (!owner.isEmpty()) {
      plugin(owner).ifPresent(causes::add);
    }
    if (!was.libraries().equals(now.libraries())) {
      causes.add(Cause.words("Slabnote itself or a library of it changed", ""));
    }
    return causes;
  }

  private Optional<Cause> plugin(String id) {
    PluginMark before = was.plugins().get(id);
    PluginMark after = now.plugins().get(id);
    if (Objects.equals(before, after)) {
      return Optional.empty();
    }
    if (after == null) {
      return Optional.of(Cause.words("plugin " + id + " is gone", ""));
    }
    String versions = before == null
        ? ""
        : before.version().equals(after.version())
            ? " (another file of the same version, " + after.version() + ")"
            : " (" + before.version() + " -> " + after.version() + ")";
    return Optional.of(Cause.words("plugin " + id + " changed" + versions, ""));
  }
}
