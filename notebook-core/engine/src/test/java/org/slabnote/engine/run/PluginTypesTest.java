package org.slabnote.engine.run;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.slabnote.engine.job.SurveyTable;

/** Values of a third party's own types, its libraries and its readers of scans. */
class PluginTypesTest {
  @TempDir
  private static Path cache;

  @TempDir
  private Path folder;

  private Path job;

  @BeforeEach
  void makeAJob() throws Exception {
    job = JobFixture.write(folder.resolve("job"), "# A slab\n");
  }

  private void notebook(String cell) throws Exception {
    Files.writeString(job.resolve("interpretation.md"), "```java a\n" + cell + "\n```\n");
  }

  private JobRunner runner() {
    return JobRunner.of(job, cache, 2);
  }

  private static List<String> computed(JobRunner runner) throws Exception {
    List<String> computed = new ArrayList<>();
    runner.run(new RunListener() {
      @Override
      public void step(String address, double share) {
        synchronized (computed) {
          computed.add(address);
        }
      }
    });
    return computed.stream()
        .filter(address -> address.startsWith("a/"))
        .distinct()
        .toList();
  }

  private String table(String name) throws Exception {
    return runner().record().tables().get(name).csv();
  }

  /** {@code odd.peak} gives a record of an exported and an unexported type; {@code odd.say} takes it. */
  private static JarMaker own() {
    return new JarMaker()
        .coordinates("com.example.odd", "odd", "3.0")
        .plugin("com.example.odd.OddPlugin", "odd", "Find.class, Say.class", "")
        .source("com.example.odd.inner.Place", """
            package com.example.odd.inner;
            public record Place(int trace, int sample) {}
            """)
        .source("com.example.odd.Peak", """
            package com.example.odd;
            import com.example.odd.inner.Place;
            public record Peak(double value, Place place, java.util.List<Side> sides) {
              public enum Side { NEAR, FAR }
            }
            """)
        .source("com.example.odd.Find", """
            package com.example.odd;
            import java.util.List;
            import org.slabnote.api.*;
            @Op(id = "odd.find", revision = 1, purpose = Purpose.TARGETS)
            public record Find(Step<Scan> scan) implements Operation<Peak> {
              public Peak apply(Work work) {
                return new Peak(scan.get().sample(1, 2),
                    new com.example.odd.inner.Place(1, 2), List.of(Peak.Side.FAR));
              }
            }
            """)
        .source("com.example.odd.Say", """
            package com.example.odd;
            import java.util.List;
            import org.slabnote.api.*;
            @Op(id = "odd.say", revision = 1, purpose = Purpose.TABLE)
            public record Say(Steps<Peak> peaks) implements Operation<Table> {
              public Table apply(Work work) {
                return new Table(List.of(new Table.Text("peak", peaks.list().stream()
                    .map(p -> p.get().value() + " " + p.get().place().trace() + " "
                        + p.get().sides()).toList())));
              }
            }
            """);
  }

  @Test
  void valuesOfItsOwnTypesGoFromStepToStepAndAreRemembered() throws Exception {
    ThirdParties.pin(job, cache, folder, own(), "odd.jar");
    notebook("""
        import com.example.odd.*;
        var peaks = scans(ACROSS).each(s -> new Find(s));
        show(peaks.of("E01"));
        if (peaks.of("E02").get().value() < 0) {
          table("peaks", run(new Say(peaks)));
        }""");
    assertThat(computed(runner())).contains("a/peaks/E01", "a/peaks/E02");
    assertThat(table("peaks")).isEqualTo("peak\n6.0 1 [FAR]\n-6.0 1 [FAR]\n");
    assertThat(computed(runner())).isEmpty();
    String file = job.resolve("interpretation.md").toString();
    Files.writeString(
        Path.of(file), Files.readString(Path.of(file)).replace("\"peaks\"", "\"all\""));
    assertThat(computed(runner())).isEmpty();
    assertThat(runner().recheck(RunListener.NONE)).isEmpty();
  }

  @Test
  void theUnexportedTypeIsNotThereForCells() throws Exception {
    ThirdParties.pin(job, cache, folder, own(), "odd.jar");
    notebook("""
        import com.example.odd.*;
        import com.example.odd.inner.Place;""");
    assertThatThrownBy(() -> runner().run(RunListener.NONE))
        .hasMessage("cell a, line 3: package com.example.odd.inner does not exist");
  }

  /** The plugin brings Commons Math in a version of its own, of another shape. */
  @Test
  void itsOwnCommonsMathIsForItsPrivateUse() throws Exception {
    Path library = new JarMaker()
        .source("org.apache.commons.math3.util.FastMath", """
            package org.apache.commons.math3.util;
            public class FastMath { public static double own(double x) { return 41 + x; } }
            """)
        .build(folder.resolve("built/commons-math3-9.9.jar"));
    JarMaker odd = ThirdParties.odd(
            "return table(org.apache.commons.math3.util.FastMath.own(1));", "")
        .against(library);
    // The compiler must see the plugin's own: it stands first.
    ThirdParties.pin(
        job, cache, odd.first(library).build(folder.resolve("built/odd.jar")), library);
    notebook("""
        import com.example.odd.Odd;
        import org.apache.commons.math3.util.FastMath;
        table("x", run(new Odd(scan("E01", ACROSS))));
        int cells = (int) FastMath.floor(3.5);""");
    runner().run(RunListener.NONE);
    assertThat(table("x")).isEqualTo("x_1\n42.000000\n");
    assertThat(job.resolve("plugins/odd/commons-math3-9.9.jar")).exists();
    assertThat(Files.readString(job.resolve("interpretation.record.jsonl")))
        .contains("\"libraries\":{\"commons-math3-9.9\":\"");
  }

  @Test
  void commonsMathIsThereForOneThatBringsNone() throws Exception {
    ThirdParties.pin(
        job,
        cache,
        folder,
        ThirdParties.odd("return table(org.apache.commons.math3.util.FastMath.floor(2.5));", ""),
        "odd.jar");
    notebook("""
        import com.example.odd.Odd;
        table("x", run(new Odd(scan("E01", ACROSS))));""");
    runner().run(RunListener.NONE);
    assertThat(table("x")).isEqualTo("x_1\n2.000000\n");
  }

  private static JarMaker format(String recognises, String read, String remarks) {
    return new JarMaker()
        .coordinates("com.example.odd", "odd", "3.0")
        .plugin(
            "com.example.odd.OddPlugin",
            "odd",
            "",
            "public List<ScanFormat> scanFormats() { return List.of(new Odd()); }")
        .source("com.example.odd.Odd", """
            package com.example.odd;
            import java.util.*;
            import org.slabnote.api.*;
            public final class Odd implements ScanFormat {
              public String id() { return "odd.text"; }
              public int revision() { return 4; }
              public boolean recognises(String file, byte[] head) { %s }
              public Scan read(byte[] bytes, SurveyRow row) { %s }
              public List<String> remarks(byte[] bytes, SurveyRow row) { %s }
            }
            """.formatted(recognises, read, remarks));
  }

  private static final String IS_ODD =
      "return head.length > 2 && head[0] == 'O' && head[1] == 'D';";
  private static final String READS = """
      float[][] traces = {{bytes[2], 1}, {2, 3}};
      return new Scan(row.pass(), row.channel(), row.antenna(), \
      new TimeAxis(new org.slabnote.api.quantity.TimeSpan(0), row.interval(), 2), \
      row.track(2), Samples.ofTraces(traces), row.surface(), Optional.empty(), List.of());""";

  private void oddScan() throws Exception {
    Files.writeString(job.resolve("scans/E03.odd"), "ODA");
    Files.writeString(
        job.resolve("survey.csv"),
        String.join(",", SurveyTable.COLUMNS)
            + "\nE03,a,E03.odd,90,90,0,0.1,1,0.1,0.05,0.06,2000\n");
    notebook("show(scan(\"E03\", ACROSS));");
  }

  @Test
  void aFormatOfItsOwnIsReadAndRecorded() throws Exception {
    ThirdParties.pin(
        job, cache, folder, format(IS_ODD, READS, "return List.of(\"read oddly\");"), "odd.jar");
    oddScan();
    runner().run(RunListener.NONE);
    assertThat(Files.readString(job.resolve("interpretation.record.jsonl")))
        .contains(
            "\"format\":\"odd.text/4\"", "\"remarks\":[\"read oddly\"]", "\"plugin\":\"odd\"");
  }

  @Test
  void aFormatThatThrowsIsNamedWithTheFile() throws Exception {
    ThirdParties.pin(
        job, cache, folder, format("return head[9] == 1;", READS, "return List.of();"), "odd.jar");
    oddScan();
    assertThatThrownBy(() -> runner().run(RunListener.NONE))
        .hasMessage("interpretation.md: odd.text of plugin odd 3.0 (plugins/odd.jar), asked about "
            + "E03.odd, throws ArrayIndexOutOfBoundsException: Index 9 out of bounds for length 3. "
            + "This is a fault of the plugin, not of the cell: tell its author, and leave the step "
            + "out until it is put right");
  }

  @Test
  void aFormatThatFailsToReadIsNamed() throws Exception {
    ThirdParties.pin(
        job,
        cache,
        folder,
        format(IS_ODD, "throw new UnsupportedOperationException(\"no\");", "return List.of();"),
        "odd.jar");
    oddScan();
    assertThatThrownBy(() -> runner().run(RunListener.NONE))
        .hasMessageContaining("step scan/E03/a: odd.text of plugin odd 3.0 (plugins/odd.jar): "
            + "UnsupportedOperationException: no (thrown by com.example.odd.Odd, line 8)");
  }

  @Test
  void aFormatTakesNoFileFromABundledOne() throws Exception {
    Files.writeString(job.resolve("interpretation.md"), JobFixture.NOTEBOOK);
    runner().run(RunListener.NONE);
    byte[] record = Files.readAllBytes(job.resolve("interpretation.record.jsonl"));
    ThirdParties.pin(
        job, cache, folder, format("return true;", READS, "return List.of();"), "odd.jar");
    runner().run(RunListener.NONE);
    assertThat(job.resolve("interpretation.record.jsonl")).hasBinaryContent(record);
  }
}
