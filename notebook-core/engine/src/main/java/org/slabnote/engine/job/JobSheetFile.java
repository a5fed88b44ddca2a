package org.slabnote.engine.job;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.dataformat.toml.TomlMapper;
import java.util.ArrayList;
import java.util.Iterator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import org.slabnote.api.JobSheet;
import org.slabnote.api.TargetClass;
import org.slabnote.api.quantity.Length;
import org.slabnote.api.quantity.Quantity;
import org.slabnote.api.quantity.Units;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Problem;

/**
 * The job sheet, {@code job.toml} (TOML 1.0).
 *
 * <p>{@code title} and {@code question} stand first. {@code thickness} in {@code [element]} and the
 * values of {@code [required_clearance]} are lengths with their unit, {@code "200 mm"}; an empty text
 * means that nothing states it. Everything else is text for the record, by section and key.
 *
 * @since 0.1
 */
public final class JobSheetFile {
  /** The sections that a job sheet may have. */
  public static final List<String> SECTIONS = List.of(
      "element",
      "site",
      "drawings",
      "instrument",
      "people",
      "dates",
      "required_clearance",
      "limits",
      "notes");

  private static final TomlMapper TOML = new TomlMapper();

  private final String file;
  private final String text;
  private final List<Problem> problems = new ArrayList<>();

  private JobSheetFile(String file, String text) {
    this.file = file;
    this.text = text;
  }

  /**
   * Parses the job sheet.
   *
   * @param file its name, for messages
   * @throws BadInput with every problem, each with line, key and value
   */
  public static JobSheet parse(String file, String text) throws BadInput {
    return new JobSheetFile(file, text).read();
  }

  /** A job sheet to fill in. */
  public static String blank(String title) {
    String quoted = title.replace("\\", "\\\\").replace("\"", "\\\"");
    return """
        # Job sheet: an input like a scan. What is left empty is not known, and is never guessed.
        title = "%s"
        # What will be cut, where, how deep, and how far it may be moved, in the client's words
        question = ""

        [element]
        # suspended slab, slab on grade, slab on metal deck, plank, wall
        kind = ""
        # thickness = "200 mm": only where a drawing or an open edge states it
        thickness = ""
        # which surface depths run from: the finish, or the concrete
        scanned_face = ""
        # where x = 0, y = 0 lies on the building, and which way x points
        datum = ""

        [drawings]
        # structural, post-tensioning, electrical, plumbing: seen (number, date) or not seen
        structural = ""
        post_tensioning = ""
        services = ""

        [instrument]
        antenna = ""
        serial = ""

        [people]
        scanned_by = ""
        interpreted_by = ""

        [dates]
        scanned = ""

        # Required clearance from the cut to the outside of a target, by class. Set by the client or the
        # engineer of record; there is no public standard figure.
        [required_clearance]
        metal = ""
        non_metal = ""
        """.replace("%s", quoted);
  }

  private JobSheet read() throws BadInput {
    JsonNode root = tree();
    SortedMap<String, String> facts = new TreeMap<>();
    SortedMap<TargetClass, Length> required = new TreeMap<>();
    Optional<Length> thickness = Optional.empty();
    String title = "";
    String question = "";
    Iterator<Map.Entry<String, JsonNode>> fields = root.fields();
    while (fields.hasNext()) {
      Map.Entry<String, JsonNode> field = fields.next();
      String key = field.getKey();
      JsonNode value = field.getValue();
      if (key.equals("title")) {
        title = plain("", key, value);
      } else if (key.equals("question")) {
        question = plain("", key, value);
      } else if (!SECTIONS.contains(key)) {
        problem(
            "",
            key,
            key + " is not known; expected title, question and the sections "
                + String.join(", ", SECTIONS) + ". Put the name right, or move it under [notes]");
      } else if (!value.isObject()) {
        problem(
            "",
            key,
            key + " stands as a value; expected a section. Write [" + key
                + "] on a line of its own, and its keys below");
      } else if (key.equals("required_clearance")) {
        required.putAll(clearances(value));
      } else {
        section(key, value, facts);
      }
    }
    String stated = facts.getOrDefault("element.thickness", "");
    if (!stated.isBlank()) {
      thickness = length("element", "thickness", stated);
    }
    facts.remove("element.thickness");
    if (title.isBlank() && problems.isEmpty()) {
      problem("", "title", "title is empty; expected the title of the job. Write title = \"...\"");
    }
    if (!problems.isEmpty()) {
      throw new BadInput(problems);
    }
    return new JobSheet(title, question, thickness, required, facts);
  }

  private JsonNode tree() throws BadInput {
    try {
      return TOML.readTree(text);
    } catch (JsonProcessingException e) {
      int line = e.getLocation() == null ? 0 : e.getLocation().getLineNr();
      throw new BadInput(Problem.inFile(
          file,
          line,
          "this is not TOML: " + e.getOriginalMessage().lines().findFirst().orElse("")
              + ". Expected lines such as title = \"Plant room slab\""));
    }
  }

  private SortedMap<TargetClass, Length> clearances(JsonNode section) {
    SortedMap<TargetClass, Length> required = new TreeMap<>();
    section.fields().forEachRemaining(field -> {
      Optional<TargetClass> type = type(field.getKey());
      if (type.isEmpty()) {
        problem(
            "required_clearance",
            field.getKey(),
            field.getKey() + " is no class of target; expected " + classes()
                + ". Put the name right");
        return;
      }
      String value = plain("required_clearance", field.getKey(), field.getValue());
      if (!value.isBlank()) {
        length("required_clearance", field.getKey(), value)
            .ifPresent(length -> required.put(type.get(), length));
      }
    });
    return required;
  }

  private static Optional<TargetClass> type(String key) {
    for (TargetClass one : TargetClass.values()) {
      if (one.name().toLowerCase(Locale.ROOT).equals(key)) {
        return Optional.of(one);
      }
    }
    return Optional.empty();
  }

  private static String classes() {
    List<String> names = new ArrayList<>();
    for (TargetClass one : TargetClass.values()) {
      names.add(one.name().toLowerCase(Locale.ROOT));
    }
    return String.join(", ", names);
  }

  private void section(String name, JsonNode section, SortedMap<String, String> facts) {
    section
        .fields()
        .forEachRemaining(field ->
            facts.put(name + "." + field.getKey(), plain(name, field.getKey(), field.getValue())));
  }

  private String plain(String section, String key, JsonNode value) {
    if (value.isArray()) {
      List<String> parts = new ArrayList<>();
      value.forEach(one -> parts.add(plain(section, key, one)));
      return String.join(", ", parts);
    }
    if (value.isObject()) {
      problem(
          section,
          key,
          key + " holds keys of its own; expected a text, a number, a date or a "
              + "list. Write it in one line");
      return "";
    }
    return value.asText();
  }

  private Optional<Length> length(String section, String key, String value) {
    Quantity<?> parsed = null;
    try {
      parsed = Units.parse(value);
    } catch (IllegalArgumentException e) {
      problem(
          section,
          key,
          key + " = " + value + "; expected a length with its unit. " + "Write it as \"50 mm\"");
      return Optional.empty();
    }
    if (parsed instanceof Length length && length.value() > 0 && length.value() <= 20) {
      return Optional.of(length);
    }
    problem(
        section,
        key,
        key + " = " + value + "; expected a length above 0 m and up to 20 m. "
            + "Write it as \"50 mm\"");
    return Optional.empty();
  }

  private void problem(String section, String key, String message) {
    problems.add(Problem.inFile(file, lineOf(section, key), message));
  }

  /** The line on which a key stands, found by its name; 0 where it is written in some other way. */
  private int lineOf(String section, String key) {
    String current = "";
    int number = 0;
    for (String line : text.split("\\R", -1)) {
      number++;
      String stripped = line.strip();
      if (stripped.startsWith("[")) {
        current = stripped.replaceAll("[\\[\\]]|#.*", "").strip();
        if (section.isEmpty() && current.equals(key)) {
          return number;
        }
      } else if (current.equals(section)
          && stripped.matches("\"?" + java.util.regex.Pattern.quote(key) + "\"?\\s*=.*")) {
        return number;
      }
    }
    return 0;
  }
}
