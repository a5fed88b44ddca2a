package org.slabnote.engine.record;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import com.google.common.jimfs.Configuration;
import com.google.common.jimfs.Jimfs;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileSystem;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.TreeSet;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.slabnote.api.Conclusion;
import org.slabnote.api.Doubles;
import org.slabnote.api.Table;
import org.slabnote.api.VelocityEstimate;
import org.slabnote.api.Verdict;
import org.slabnote.api.quantity.Length;
import org.slabnote.api.quantity.Measured;
import org.slabnote.api.quantity.TimeSpan;
import org.slabnote.api.quantity.Velocity;
import org.slabnote.engine.compiler.CellCompiler;
import org.slabnote.engine.compiler.Compiled;
import org.slabnote.engine.job.Job;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Fault;
import org.slabnote.engine.record.Demand.Kind;

class RecordTest {
  private static final String NOTEBOOK =
      "```java clean\nvar a = 1;\n```\n```csv picks\npass,distance_m,time_ns\n```\n"
          + "```java velocity\nvar v = a;\n```\n";

  @TempDir
  private Path folder;

  /** Permittivity by hand: (0.299792458 / 0.1062)^2 = 7.96879, u = 2 x 7.96879 x 0.0019 / 0.1062. */
  @Test
  void eachFactIsALineOfCanonicalJson() throws Exception {
    List<String> lines = RecordLines.record(facts(0.1062));
    assertThat(lines)
        .contains(
            "{\"record\":1}",
            "{\"question\":\"\",\"title\":\"Roof slab\"}",
            "{\"plugin\":\"filters\",\"version\":\"0.1.0\"}",
            "{\"cell\":\"clean\",\"reads\":[]," + "\"sha256\":\"" + sha("var a = 1;\n") + "\"}",
            "{\"cell\":\"velocity\",\"reads\":[\"clean/a\",\"picks\"],\"sha256\":\""
                + sha("var v = a;\n") + "\",\"values\":[\"velocity/v\"]}",
            "{\"inputs\":{\"input\":[\"scan/*/a\"]},\"op\":\"filters.dewow/1\",\"over\":[\"E01\",\"E02\"],"
                + "\"params\":{\"window\":{\"unit\":\"ns\",\"value\":1}},\"step\":\"clean/across\"}",
            "{\"budget\":{\"velocity/v#fit\":0.0019},\"determinations\":0,\"evidence\":\"E01\","
                + "\"method\":\"hyperbola fit\",\"permittivity\":{\"budget\":{\"velocity/v#fit\":-0.285136},"
                + "\"u\":0.285136,\"unit\":\"1\",\"value\":7.96879},\"result\":\"velocity/v\",\"u\":0.0019,"
                + "\"unit\":\"m/ns\",\"value\":0.1062}",
            "{\"columns\":[\"name\",\"depth_m\"],\"rows\":1,\"step\":\"velocity/t\",\"table\":\"targets\"}",
            "{\"cells\":[\"T01\",\"0.0350\"],\"row\":1,\"table\":\"targets\"}",
            "{\"conclusion\":\"C2\",\"margin\":{\"u\":0.0032,\"unit\":\"m\",\"value\":0.015},"
                + "\"nearest\":\"T01\",\"rests_on\":{\"velocity/v#fit\":0.0032},\"statement\":\"words\","
                + "\"step\":\"velocity/c\",\"subject\":\"C2\",\"verdict\":\"infringes\"}");
  }

  @Test
  void bothFilesAreWrittenAndReadBack() throws Exception {
    RunFacts facts = facts(0.1062);
    files(0.1062).write(folder);
    RecordReader reader = RecordReader.open(folder);
    assertThat(reader.tables().get("targets").csv()).isEqualTo("name,depth_m\nT01,0.0350\n");
    assertThat(reader.fingerprints()).containsOnlyKeys("velocity/c", "velocity/t", "velocity/v");
    reader.requireMatch(facts.job());
    try (var files = Files.list(folder)) {
      assertThat(files.map(p -> p.getFileName().toString()))
          .noneMatch(name -> name.endsWith(".part"));
    }
  }

  @Test
  void aRecordThatFitsTheJobNoLongerIsRefused() throws Exception {
    files(0.1062).write(folder);
    RecordReader reader = RecordReader.open(folder);
    Files.writeString(
        folder.resolve("interpretation.md"), NOTEBOOK.replace("var v = a", "var v = a + 1"));
    Files.writeString(folder.resolve("scans/E01.sgy"), "abd");
    assertThatThrownBy(() -> reader.requireMatch(Job.open(folder)))
        .isInstanceOf(BadInput.class)
        .hasMessage(
            "interpretation.record.jsonl: scans/E01.sgy changed since the record was written. "
                + "Run the job again\n"
                + "interpretation.record.jsonl: cell velocity changed since the record was written. "
                + "Run the job again");
  }

  @Test
  void aChangedRecordIsNotRead() throws Exception {
    files(0.1062).write(folder);
    Path record = folder.resolve("interpretation.record.jsonl");
    Files.writeString(record, Files.readString(record).replace("0.0350", "0.0950"));
    assertThatThrownBy(() -> RecordReader.open(folder))
        .hasMessage("interpretation.record.jsonl: the record is not the one whose digest stands in "
            + "interpretation.digests: one of the two was changed after the run. Run the job "
            + "again, or restore both from version control");
  }

  /** What a kill between the two moves leaves, of process 4194305: above Linux's highest number. */
  private Path halfWritten(double velocity) throws Exception {
    RecordFiles later = files(velocity);
    Files.write(folder.resolve("interpretation.digests"), later.digests());
    return Files.write(folder.resolve(".interpretation-4194305-1.part"), later.record());
  }

  @Test
  void aRunKilledBetweenTheTwoFilesIsToldAndMendedByTheNext() throws Exception {
    files(0.1062).write(folder);
    Path part = halfWritten(0.1063);
    assertThatThrownBy(() -> RecordReader.open(folder))
        .hasMessage("interpretation.record.jsonl: this is the record of an earlier run; "
            + "interpretation.digests is already of a later one, which was ended while it wrote the "
            + "two. Nothing else is lost: run the job again");
    files(0.1063).write(folder);
    RecordReader.open(folder);
    assertThat(part).doesNotExist();
  }

  @Test
  void aFirstRunKilledBetweenTheTwoFilesIsTold() throws Exception {
    halfWritten(0.1062);
    assertThatThrownBy(() -> RecordReader.open(folder))
        .hasMessage("interpretation.record.jsonl: there is no such file; interpretation.digests is "
            + "already of a later one, which was ended while it wrote the two. Nothing else is "
            + "lost: run the job again");
  }

  /** Where the record cannot be moved into its place, the digests of before stand again. */
  @Test
  void bothFilesOrNeither() throws Exception {
    files(0.1062).write(folder);
    byte[] digests = Files.readAllBytes(folder.resolve("interpretation.digests"));
    Path record = folder.resolve("interpretation.record.jsonl");
    Files.delete(record);
    Files.createDirectories(record.resolve("in the way"));
    assertThatThrownBy(() -> files(0.1063).write(folder))
        .hasMessageStartingWith("the record cannot be written into " + folder)
        .hasMessageEndingWith("The run is remembered: make room or allow writing, and run again");
    assertThat(folder.resolve("interpretation.digests")).hasBinaryContent(digests);
    assertThat(left()).isEmpty();
  }

  /** A disk of 40 kB in memory: the record of before stays, and no part is left. */
  @Test
  void aFullDiskLeavesTheRecordOfBefore() throws Exception {
    Configuration small = Configuration.unix().toBuilder()
        .setAttributeViews("basic", "owner", "posix", "unix")
        .setBlockSize(512)
        .setMaxSize(40_000)
        .build();
    try (FileSystem disk = Jimfs.newFileSystem(small)) {
      Path job = Files.createDirectory(disk.getPath("/job"));
      RecordFiles before = files(0.1062);
      before.write(job);
      int room = 40_000 - 2 * (before.record().length + before.digests().length) - 2048;
      Files.write(disk.getPath("/rest"), new byte[room]);
      for (int taken = 0; taken < 6; taken++) {
        try {
          files(0.1063 + 0.0001 * taken).write(job);
          before = files(0.1063 + 0.0001 * taken);
        } catch (Fault full) {
          assertThat(full).hasMessageContaining("make room or allow writing");
          assertThat(RecordReader.open(job).files().record()).isEqualTo(before.record());
          assertThat(RecordReader.open(job).files().digests()).isEqualTo(before.digests());
          try (var all = Files.list(job)) {
            assertThat(all).hasSize(2);
          }
          return;
        }
        Files.write(disk.getPath("/more" + taken), new byte[1024]);
      }
      throw new AssertionError("the disk never was full");
    }
  }

  private List<Path> left() throws Exception {
    try (var all = Files.list(folder)) {
      return all.filter(file -> file.toString().endsWith(".part")).toList();
    }
  }

  @Test
  void tellsTheFirstFactThatDiffersAndByHowMuch() throws Exception {
    RecordFiles before = files(0.1062);
    assertThat(Recheck.firstDifference(before, files(0.1062))).isEmpty();
    assertThat(Recheck.firstDifference(before, files(0.1063)).orElseThrow())
        .matches(
            "interpretation\\.record\\.jsonl, line \\d+: result velocity/v: "
                + "permittivity\\.budget\\.velocity/v#fit = -0\\.285136 in the record, .* now \\(.*\\)");
    RecordFiles hidden = files(0.1062 + 1e-12);
    assertThat(hidden.record()).isEqualTo(before.record());
    assertThat(Recheck.firstDifference(before, hidden).orElseThrow())
        .isEqualTo(
            "interpretation.digests: step velocity/c differs: of 1 compared numbers out of 1 the "
                + "farthest apart is 0.1062 before, 0.106200000001 now (0.000000000001); "
                + "rms 0.1062 before, 0.106200000001 now");
  }

  private RecordFiles files(double velocity) throws Exception {
    RunFacts facts = facts(velocity);
    SortedMap<String, Fingerprint> prints = new TreeMap<>();
    facts
        .values()
        .forEach((address, value) -> prints.put(
            address,
            new Fingerprint(
                org.slabnote.api.codec.Canonical.digest(value),
                1,
                velocity,
                velocity,
                velocity,
                List.of(velocity))));
    return RecordFiles.of(facts, prints);
  }

  private static String sha(String text) {
    return org.slabnote.api.codec.Canonical.sha256(text.getBytes(StandardCharsets.UTF_8));
  }

  private RunFacts facts(double velocity) throws Exception {
    Files.createDirectories(folder.resolve("scans"));
    Files.writeString(folder.resolve("scans/E01.sgy"), "abc");
    Files.writeString(folder.resolve("scans/E02.sgy"), "abc");
    Files.writeString(folder.resolve("job.toml"), "title = \"Roof slab\"\n");
    Files.writeString(
        folder.resolve("survey.csv"),
        String.join(",", org.slabnote.engine.job.SurveyTable.COLUMNS)
            + "\nE01,a,E01.sgy,90,90,0,0,1,0,0.05,0.06,2000\n"
            + "E02,a,E02.sgy,90,90,0,1,1,1,0.05,0.06,2000\n");
    Files.writeString(folder.resolve("interpretation.md"), NOTEBOOK);
    Job job = Job.open(folder);
    Compiled compiled = new CellCompiler(List.of(), List.of()).compile(job.notebook());
    SortedMap<String, Object> values = new TreeMap<>();
    values.put(
        "velocity/v",
        new VelocityEstimate(
            Measured.of(new Velocity(velocity), "velocity/v#fit", new Velocity(0.0019)),
            "hyperbola fit",
            "E01",
            List.of()));
    values.put(
        "velocity/t",
        new Table(List.of(
            new Table.Text("name", List.of("T01")),
            new Table.Numbers("depth_m", Doubles.of(new double[] {0.035}), 4))));
    values.put(
        "velocity/c",
        new Conclusion(
            "C2",
            "words",
            Verdict.INFRINGES,
            Optional.of(Measured.of(new Length(0.015), "velocity/v#fit", new Length(0.0032))),
            Optional.of("T01"),
            new TreeMap<>()));
    return new RunFacts(
        job,
        compiled,
        List.of(RunFacts.PluginFact.bundled("filters", "0.1.0")),
        List.of(),
        new TreeMap<>(java.util.Map.of("velocity", new TreeSet<>(List.of("picks")))),
        List.of(step("E01"), step("E02")),
        List.of(
            new Demand(Kind.READ, "velocity", "velocity/v", List.of()),
            new Demand(Kind.TABLE, "targets", "velocity/t", List.of()),
            new Demand(Kind.CONCLUDE, "C2", "velocity/c", List.of())),
        values);
  }

  private static StepFact step(String pass) {
    return new StepFact(
        "clean/across/" + pass,
        "clean/across",
        pass,
        "filters.dewow/1",
        "",
        new TreeMap<>(java.util.Map.of("window", new TimeSpan(1))),
        new TreeMap<>(java.util.Map.of("input", List.of("scan/" + pass + "/a"))));
  }
}
