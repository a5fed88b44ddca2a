package org.slabnote.engine.job;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.regex.Pattern;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Problem;

/**
 * The plugins that a job pins, {@code plugins.lock}: one jar a line, plugins in order of id, each
 * plugin's own jar before its libraries. Written by {@code slabnote plugin}, read and compared by
 * people.
 *
 * @since 0.1
 */
public final class PluginsLock {
  /** Its file name. */
  public static final String FILE = "plugins.lock";

  /** The folder of the jars. */
  public static final String FOLDER = "plugins";

  /** The columns. */
  public static final List<String> COLUMNS =
      List.of("plugin", "role", "group", "artifact", "version", "jar", "sha256");

  private static final Pattern ID = Pattern.compile("[a-z][a-z0-9-]*");
  private static final Pattern JAR =
      Pattern.compile("([a-z][a-z0-9-]*/)?[A-Za-z0-9_][A-Za-z0-9_.+-]*\\.jar");
  private static final Pattern DIGEST = Pattern.compile("[0-9a-f]{64}");

  private PluginsLock() {}

  /**
   * Parses it.
   *
   * @throws BadInput with every problem, each with line, column and value
   */
  public static List<PinnedPlugin> parse(String text) throws BadInput {
    List<Problem> problems = new ArrayList<>();
    CsvFile csv = new CsvFile(FILE, text, COLUMNS, List.of(), problems);
    Map<String, List<PinnedJar>> jars = new LinkedHashMap<>();
    Map<String, Integer> lineOf = new HashMap<>();
    Set<String> plugins = new HashSet<>();
    for (CsvFile.Row row : csv.rows()) {
      jar(row, jars, lineOf, plugins);
    }
    if (!problems.isEmpty()) {
      throw new BadInput(problems);
    }
    List<PinnedPlugin> pinned = new ArrayList<>();
    jars.forEach((id, list) -> pinned.add(new PinnedPlugin(id, list)));
    return pinned;
  }

  private static void jar(
      CsvFile.Row row,
      Map<String, List<PinnedJar>> jars,
      Map<String, Integer> lineOf,
      Set<String> plugins) {
    String id = matching(row, "plugin", ID, "lower-case letters, digits and -, a letter first");
    String file = matching(row, "jar", JAR, "a file name that ends with .jar");
    String sha256 = matching(row, "sha256", DIGEST, "64 lower-case hexadecimal digits");
    String role = row.text("role");
    boolean own = role.equals("plugin");
    if (!own && !role.equals("library")) {
      row.wrong("role", "= " + role, "expected plugin or library", REMEDY);
    } else if (own != !jars.containsKey(id)) {
      row.wrong(
          "role",
          "= " + role + " for plugin " + id,
          "expected one line with plugin, and the libraries after it",
          REMEDY);
    } else if (own && !plugins.add(id)) {
      row.wrong("plugin", "= " + id + " stands twice", "expected it once", REMEDY);
    }
    Integer before = lineOf.putIfAbsent(file, row.line());
    if (before != null) {
      row.wrong(
          "jar",
          "= " + file + " stands in line " + before + " already",
          "expected each jar once",
          REMEDY);
    }
    jars.computeIfAbsent(id, key -> new ArrayList<>())
        .add(new PinnedJar(
            row.text("group"), row.name("artifact"), row.text("version"), file, sha256));
  }

  private static final String REMEDY = "Restore the file, or pin the plugin again";

  private static String matching(CsvFile.Row row, String column, Pattern pattern, String what) {
    String value = row.text(column);
    if (!pattern.matcher(value).matches()) {
      row.wrong(column, "= " + value, "expected " + what, REMEDY);
    }
    return value;
  }

  /** Returns the file's text. */
  public static String text(List<PinnedPlugin> plugins) {
    StringBuilder text = new StringBuilder(String.join(",", COLUMNS)).append('\n');
    for (PinnedPlugin plugin :
        plugins.stream().sorted(Comparator.comparing(PinnedPlugin::id)).toList()) {
      for (PinnedJar jar : plugin.jars()) {
        text.append(String.join(
                ",",
                plugin.id(),
                jar.equals(plugin.own()) ? "plugin" : "library",
                jar.group(),
                jar.artifact(),
                jar.version(),
                jar.file(),
                jar.sha256()))
            .append('\n');
      }
    }
    return text.toString();
  }
}
