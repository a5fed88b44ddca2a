package org.slabnote.engine.record;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;
import org.slabnote.api.Table;
import org.slabnote.api.codec.Canonical;
import org.slabnote.engine.document.Block;
import org.slabnote.engine.job.Job;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Problem;

/**
 * A record read back: its facts, its tables, and whether it still fits the job.
 *
 * @since 0.1
 */
public final class RecordReader {
  private static final String HALF =
      Job.DIGESTS + " is already of a later one, which was ended while "
          + "it wrote the two. Nothing else is lost: run the job again";

  private final RecordFiles files;
  private final List<JsonNode> lines;
  private final SortedMap<String, Fingerprint> fingerprints = new TreeMap<>();

  private RecordReader(RecordFiles files, List<JsonNode> lines) {
    this.files = files;
    this.lines = lines;
  }

  /**
   * Reads the record of a job folder and the digests beside it.
   *
   * @throws BadInput if there is none, a line cannot be read, or the two do not belong together
   */
  public static RecordReader open(Path folder) throws BadInput {
    requireWhole(folder);
    byte[] record = bytes(folder, Job.RECORD);
    byte[] digests = bytes(folder, Job.DIGESTS);
    RecordReader reader =
        new RecordReader(new RecordFiles(record, digests), parse(Job.RECORD, record));
    for (JsonNode line : parse(Job.DIGESTS, digests)) {
      reader.fingerprints.put(line.path("of").asText(), Fingerprint.parse(line));
    }
    Fingerprint own = reader.fingerprints.remove(Job.RECORD);
    if (own != null
        && !own.sha256().equals(Canonical.sha256(record))
        && RecordParts.holds(folder, own.sha256())) {
      throw new BadInput(problem(0, "this is the record of an earlier run; " + HALF));
    }
    if (own == null || !own.sha256().equals(Canonical.sha256(record))) {
      throw new BadInput(problem(
          0,
          "the record is not the one whose digest stands in " + Job.DIGESTS + ": one of the two "
              + "was changed after the run. Run the job again, or restore both from version "
              + "control"));
    }
    int format = reader.lines.isEmpty() ? 0 : reader.lines.get(0).path("record").asInt();
    if (format != RecordLines.FORMAT) {
      throw new BadInput(problem(
          1,
          "the record has format " + format + "; this Slabnote reads format " + RecordLines.FORMAT
              + ". Run the job again with this Slabnote"));
    }
    return reader;
  }

  /**
   * Checks that a job has not only one of the two files, where a run was ended before it wrote the other.
   *
   * @throws BadInput if so
   */
  public static void requireWhole(Path folder) throws BadInput {
    if (Files.exists(folder.resolve(Job.DIGESTS)) && !Files.exists(folder.resolve(Job.RECORD))) {
      throw new BadInput(Problem.inFile(Job.RECORD, 0, "there is no such file; " + HALF));
    }
  }

  private static byte[] bytes(Path folder, String name) throws BadInput {
    Path path = folder.resolve(name);
    if (!Files.exists(path)) {
      throw new BadInput(new Problem(
          Problem.Kind.RECORD,
          name,
          0,
          "",
          "the job has no record yet. Run it first: slabnote run " + folder.getFileName()));
    }
    try {
      return Files.readAllBytes(path);
    } catch (IOException e) {
      throw new BadInput(new Problem(
          Problem.Kind.RECORD,
          name,
          0,
          "",
          "the file cannot be read (" + e.getClass().getSimpleName()
              + "). Check that you may read it"));
    }
  }

  static List<JsonNode> parse(String name, byte[] bytes) throws BadInput {
    List<JsonNode> lines = new ArrayList<>();
    int number = 0;
    for (String line : new String(bytes, StandardCharsets.UTF_8).split("\n")) {
      number++;
      try {
        JsonNode node = Json.MAPPER.readTree(line);
        if (node == null || !node.isObject()) {
          throw new BadInput(new Problem(
              Problem.Kind.RECORD,
              name,
              number,
              "",
              "this is no fact of a record; " + "expected a JSON object. Run the job again"));
        }
        lines.add(node);
      } catch (JsonProcessingException e) {
        throw new BadInput(new Problem(
            Problem.Kind.RECORD,
            name,
            number,
            "",
            "this is not JSON; expected one JSON " + "object a line. Run the job again"));
      }
    }
    return lines;
  }

  private static Problem problem(int line, String message) {
    return new Problem(Problem.Kind.RECORD, Job.RECORD, line, "", message);
  }

  /** Both files as they were read. */
  public RecordFiles files() {
    return files;
  }

  /** Every fact in order. */
  public List<JsonNode> facts() {
    return List.copyOf(lines);
  }

  /** The facts that have a key, {@code finding} say, in order. */
  public List<JsonNode> facts(String key) {
    List<JsonNode> found = new ArrayList<>();
    for (JsonNode line : lines) {
      if (line.has(key)) {
        found.add(line);
      }
    }
    return found;
  }

  /** The fingerprints of the demanded steps by address. */
  public SortedMap<String, Fingerprint> fingerprints() {
    return fingerprints;
  }

  /** The tables by name, in the order of the record; every column is text as it was shown. */
  public Map<String, Table> tables() {
    Map<String, Table> tables = new LinkedHashMap<>();
    for (JsonNode head : facts("table")) {
      if (head.has("columns")) {
        tables.put(head.path("table").asText(), table(head));
      }
    }
    return tables;
  }

  private Table table(JsonNode head) {
    String name = head.path("table").asText();
    List<List<String>> cells = new ArrayList<>();
    head.path("columns").forEach(column -> cells.add(new ArrayList<>()));
    for (JsonNode row : facts("row")) {
      if (row.path("table").asText().equals(name)) {
        for (int i = 0; i < cells.size(); i++) {
          cells.get(i).add(row.path("cells").path(i).asText());
        }
      }
    }
    List<Table.Column> columns = new ArrayList<>();
    for (int i = 0; i < cells.size(); i++) {
      columns.add(new Table.Text(head.path("columns").get(i).asText(), cells.get(i)));
    }
    return new Table(columns);
  }

  /**
   * Checks that the record tells of this job as it now stands.
   *
   * @throws BadInput with what changed since the record was written
   */
  public void requireMatch(Job job) throws BadInput {
    List<Problem> problems = new ArrayList<>();
    Map<String, String> inputs = digests("input");
    job.digests().forEach((name, sha256) -> compare(problems, inputs, name, name, sha256));
    job.scans().values().forEach(scan -> {
      String name = Job.SCANS + "/" + scan.name();
      compare(problems, inputs, name, name, scan.sha256());
    });
    Map<String, String> cells = digests("cell");
    Map<String, String> data = digests("data");
    for (Block block : job.notebook().blocks()) {
      if (block instanceof Block.Cell cell) {
        compare(problems, cells, cell.name(), "cell " + cell.name(), sha256(cell.source()));
      } else if (block instanceof Block.Data one) {
        compare(problems, data, one.name(), "csv block " + one.name(), sha256(one.source()));
      }
    }
    plugins(problems, job);
    inputs.keySet().forEach(name -> gone(problems, name));
    cells.keySet().forEach(name -> gone(problems, "cell " + name));
    data.keySet().forEach(name -> gone(problems, "csv block " + name));
    if (!problems.isEmpty()) {
      throw new BadInput(problems);
    }
  }

  /** A plugin of a third party that the record used is pinned still, and the same. */
  private void plugins(List<Problem> problems, Job job) {
    for (JsonNode used : facts("plugin")) {
      if (used.has("sha256")) {
        String id = used.path("plugin").asText();
        ObjectNode now = job.plugins()
            .pinned(id)
            .map(RunFacts.PluginFact::pinned)
            .map(RecordLines::plugin)
            .orElseGet(Json::object);
        if (now.isEmpty()) {
          gone(problems, "plugin " + id);
        } else if (!now.equals(used)) {
          problems.add(problem(
              0,
              "plugin " + id + " is pinned to another jar since the record was written. "
                  + "Run the job again"));
        }
      }
    }
  }

  private static String sha256(String text) {
    return Canonical.sha256(text.getBytes(StandardCharsets.UTF_8));
  }

  private Map<String, String> digests(String key) {
    Map<String, String> digests = new LinkedHashMap<>();
    facts(key).forEach(f -> digests.put(f.path(key).asText(), f.path("sha256").asText()));
    return digests;
  }

  private static void compare(
      List<Problem> problems,
      Map<String, String> recorded,
      String key,
      String shown,
      String sha256) {
    String before = recorded.remove(key);
    if (before == null) {
      problems.add(problem(0, shown + " is new since the record was written. Run the job again"));
    } else if (!before.equals(sha256)) {
      problems.add(problem(0, shown + " changed since the record was written. Run the job again"));
    }
  }

  private static void gone(List<Problem> problems, String shown) {
    problems.add(problem(0, shown + " is gone since the record was written. Run the job again"));
  }
}
