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
import org.slabnote.api.codec.Canonical;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Problem;

/** Plugins of third parties, built here from source, through the real worker process. */
class ThirdPartyTest {
  private static final String BOTH = """
      ```java tilt
      import com.example.tilt.*;
      import com.example.rise.Rise;
      var level = scans(ACROSS).then(new RemoveTilt(ratio(1)));
      table("rise", run(new Rise(level.of("E01"))));
      table("before", run(new Rise(scan("E01", ACROSS))));
      ```
      """;

  /** Remembered from test to test, as from run to run. */
  @TempDir
  private static Path cache;

  @TempDir
  private Path folder;

  private Path job;

  @BeforeEach
  void makeAJob() throws Exception {
    job = JobFixture.write(folder.resolve("job"), BOTH);
  }

  private JobRunner runner() {
    return JobRunner.of(job, cache, 2);
  }

  private void pinBoth() throws Exception {
    ThirdParties.pin(job, cache, folder, ThirdParties.tilt(), "tilt-filters-1.2.0.jar");
    ThirdParties.pin(job, cache, folder, ThirdParties.rise(), "rise-tables-0.9.1.jar");
  }

  private void assertRefused(String message) {
    assertThatThrownBy(() -> runner().run(RunListener.NONE))
        .isInstanceOf(BadInput.class)
        .hasMessage(message);
    assertThat(job.resolve("interpretation.record.jsonl")).doesNotExist();
  }

  private String digest(String jar) throws Exception {
    return Canonical.sha256(Files.readAllBytes(job.resolve(jar)));
  }

  @Test
  void twoPluginsWithClashingLibrariesBothWork() throws Exception {
    pinBoth();
    Outcome outcome = runner().run(RunListener.NONE);
    assertThat(outcome.warnings()).isEmpty();
    assertThat(runner().record().tables().get("before").csv()).isEqualTo("rise_1\n1.000\n1.000\n");
    assertThat(runner().record().tables().get("rise").csv()).isEqualTo("rise_1\n0.000\n0.000\n");
    assertThat(Files.readString(job.resolve("interpretation.record.jsonl")))
        .contains("{\"jar\":\"com.example.tilt:tilt-filters\",\"plugin\":\"tilt\",\"sha256\":\""
            + digest("plugins/tilt-filters-1.2.0.jar") + "\",\"version\":\"1.2.0\"}")
        .contains("\"op\":\"tilt.remove/1\"");
    assertThat(runner().recheck(RunListener.NONE)).isEmpty();
  }

  @Test
  void theLockIsATableOfOneJarALine() throws Exception {
    pinBoth();
    assertThat(Files.readString(job.resolve("plugins.lock")))
        .isEqualTo("plugin,role,group,artifact,version,jar,sha256\n"
            + "rise,plugin,com.example.rise,rise-tables,0.9.1,rise-tables-0.9.1.jar,"
            + digest("plugins/rise-tables-0.9.1.jar") + "\n"
            + "tilt,plugin,com.example.tilt,tilt-filters,1.2.0,tilt-filters-1.2.0.jar,"
            + digest("plugins/tilt-filters-1.2.0.jar") + "\n");
  }

  @Test
  void aChangedPluginChangesNoStepOfAnother() throws Exception {
    pinBoth();
    runner().run(RunListener.NONE);
    JarMaker changed = ThirdParties.rise().entry("a-note.txt", "another build");
    ThirdParties.pin(job, cache, folder, changed, "rise-tables-0.9.1.jar");
    List<String> computed = new ArrayList<>();
    runner().run(new RunListener() {
      @Override
      public void step(String address, double share) {
        synchronized (computed) {
          computed.add(address);
        }
      }
    });
    assertThat(computed).isNotEmpty().noneMatch(address -> address.startsWith("tilt/level"));
  }

  @Test
  void theRecordIsRefusedOnceAnotherJarIsPinned() throws Exception {
    pinBoth();
    runner().run(RunListener.NONE);
    JarMaker changed = ThirdParties.rise().entry("a-note.txt", "another build");
    ThirdParties.pin(job, cache, folder, changed, "rise-tables-0.9.1.jar");
    assertThatThrownBy(() -> runner().record())
        .hasMessage("interpretation.record.jsonl: plugin rise is pinned to another jar since the "
            + "record was written. Run the job again");
    runner().plugins().remove("rise");
    assertThatThrownBy(() -> runner().record())
        .hasMessage(
            "interpretation.record.jsonl: plugin rise is gone since the record was written. "
                + "Run the job again");
  }

  @Test
  void anotherPluginBesideThemChangesNoRecord() throws Exception {
    pinBoth();
    runner().run(RunListener.NONE);
    byte[] record = Files.readAllBytes(job.resolve("interpretation.record.jsonl"));
    ThirdParties.pin(job, cache, folder, ThirdParties.odd("return table(1);", ""), "odd.jar");
    runner().run(RunListener.NONE);
    assertThat(job.resolve("interpretation.record.jsonl")).hasBinaryContent(record);
  }

  @Test
  void aChangedJarIsRefusedWithBothDigests() throws Exception {
    pinBoth();
    String before = digest("plugins/tilt-filters-1.2.0.jar");
    ThirdParties.tilt().entry("x", "y").build(job.resolve("plugins/tilt-filters-1.2.0.jar"));
    assertRefused("plugins/tilt-filters-1.2.0.jar: the jar is not the one that was pinned: "
        + "plugins.lock has SHA-256 " + before + ", the file has "
        + digest("plugins/tilt-filters-1.2.0.jar") + ". Put the pinned one back, or pin this one: "
        + "slabnote plugin add JOB plugins/tilt-filters-1.2.0.jar");
  }

  @Test
  void aMissingJarIsToldAndStopsOnlyWhatNeedsIt() throws Exception {
    pinBoth();
    String pinned = digest("plugins/tilt-filters-1.2.0.jar");
    Files.delete(job.resolve("plugins/tilt-filters-1.2.0.jar"));
    String why = "the jar is not there, so plugin tilt is set aside. Pinned is "
        + "com.example.tilt:tilt-filters:1.2.0 with SHA-256 " + pinned
        + ". Put that jar there, or give the plugin up: slabnote plugin remove JOB tilt";
    assertThat(runner().check(BOTH).get(0).toString())
        .isEqualTo("cell tilt, line 2: package com.example.tilt does not exist. Nothing of "
            + "plugins/tilt-filters-1.2.0.jar is loaded: " + why);
    Files.writeString(job.resolve("interpretation.md"), JobFixture.NOTEBOOK);
    assertThat(runner().run(RunListener.NONE).warnings())
        .extracting(Problem::toString)
        .containsExactly("plugins/tilt-filters-1.2.0.jar: " + why);
  }

  @Test
  void aJarThatNothingPinsIsNotLoaded() throws Exception {
    ThirdParties.tilt().build(job.resolve("plugins/tilt.jar"));
    ThirdParties.rise().build(job.resolve("plugins/rise.jar"));
    assertThat(runner().check(BOTH).get(0).toString())
        .isEqualTo("cell tilt, line 2: package com.example.tilt does not exist. Nothing of "
            + "plugins/tilt.jar is loaded: plugins.lock does not list this jar, so nothing of it is "
            + "loaded. Pin it: slabnote plugin add JOB plugins/tilt.jar, or take it away");
  }

  @Test
  void cellsSeeExportedPackagesOnly() throws Exception {
    pinBoth();
    assertThat(runner().check("```java a\nlib.Trend t = null;\n```\n"))
        .extracting(Problem::toString)
        .containsExactly("cell a, line 2: package lib does not exist");
    assertThat(runner().check("```java a\nvar t = new RemoveTilt(ratio(1));\n```\n"))
        .extracting(Problem::toString)
        .containsExactly("cell a, line 2: cannot find symbol: class RemoveTilt");
  }
}
