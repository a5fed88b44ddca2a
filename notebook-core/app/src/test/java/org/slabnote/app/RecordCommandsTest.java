package org.slabnote.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.slabnote.api.Doubles;
import org.slabnote.api.Table;
import org.slabnote.engine.run.RunListener;

/** What recheck and table print, with an engine that answers as told. */
class RecordCommandsTest {
  @TempDir
  @SuppressWarnings("NullAway.Init")
  Path job;

  @BeforeEach
  void record() throws Exception {
    Files.createFile(job.resolve("interpretation.record.jsonl"));
    Files.createFile(job.resolve("interpretation.digests"));
  }

  private static Bench rechecked(Optional<String> difference) {
    return new FakeBench() {
      @Override
      public Optional<String> recheck(Path folder, RunListener listener) {
        listener.stage("computing");
        return difference;
      }
    };
  }

  private static Bench tables() {
    Map<String, Table> tables = new LinkedHashMap<>();
    tables.put(
        "targets",
        new Table(List.of(
            new Table.Text("name", List.of("T01", "T02")),
            new Table.Text("place", List.of("stair, left", "Türe")))));
    tables.put("velocity", new Table(List.of(new Table.Numbers("v_m_per_ns", Doubles.of(0.1), 4))));
    return new FakeBench() {
      @Override
      public Map<String, Table> tables(Path folder) {
        return tables;
      }
    };
  }

  @Test
  void aRecheckThatGivesTheSameIsStatus0() {
    assertThat(Said.of(rechecked(Optional.empty()), "recheck", job.toString()))
        .isEqualTo(new Said(
            0,
            "same: a clean run from the scans gives the record, byte for byte\n",
            "computing\n"));
  }

  @Test
  void aRecheckThatDiffersIsStatus1AndTellsTheFirstFact() {
    assertThat(Said.of(rechecked(Optional.of("line 9: finding T01: x")), "recheck", job.toString()))
        .isEqualTo(new Said(1, "differs: line 9: finding T01: x\n", "computing\n"));
  }

  @Test
  void aJobWithoutARecordIsWrongUseAndNoVerdict() throws Exception {
    Files.delete(job.resolve("interpretation.digests"));
    for (String command : List.of("recheck", "table", "report")) {
      assertThat(Said.of(new FakeBench(), command, job.toString()))
          .isEqualTo(new Said(
              2,
              "",
              job.resolve("interpretation.digests")
                  + ": there is no such file; expected the record "
                  + "of a run. Run the job first: slabnote run " + job + "\n"));
    }
  }

  @Test
  void aMissingJobIsWrongUse() {
    Path none = job.resolve("none");
    assertThat(Said.of(new FakeBench(), "recheck", none.toString()))
        .isEqualTo(new Said(
            2,
            "",
            none
                + ": there is no such folder; expected a job folder. Make one with: slabnote new JOB "
                + "--survey FILE\n"));
    assertThat(Said.of(new FakeBench(), "open", none.toString()))
        .isEqualTo(new Said(
            2,
            "",
            none + ": there is no interpretation.md in it; expected a job folder. Make one with: "
                + "slabnote new JOB --survey FILE\n"));
  }

  @Test
  void listsTables() {
    assertThat(Said.of(tables(), "table", job.toString())).isEqualTo(new Said(0, """
            name      rows  columns
            targets      2  name,place
            velocity     1  v_m_per_ns
            """, ""));
  }

  @Test
  void printsATableAndNothingElse() {
    assertThat(Said.of(tables(), "table", job.toString(), "targets"))
        .isEqualTo(new Said(0, "name,place\nT01,\"stair, left\"\nT02,Türe\n", ""));
  }

  @Test
  void refusesATableThatIsNotThereAndNamesThoseThatAre() {
    assertThat(Said.of(tables(), "table", job.toString(), "target"))
        .isEqualTo(new Said(
            2,
            "",
            "interpretation.record.jsonl: no table target; the record has targets, velocity. A "
                + "notebook makes one with: table(\"target\", step)\n"));
  }

  @Test
  void progressOnATerminalIsOneLineThatIsTakenAwayAgain() {
    Said said = Said.of(
        true, Map.of("NO_COLOR", "1"), rechecked(Optional.empty()), "recheck", job.toString());
    assertThat(said.err()).isEqualTo("\rcomputing\u001b[K\r\u001b[K");
  }
}
