package org.slabnote.engine.run;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.entry;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.trace.OutOfDate;

/** What a change reaches is told before anything runs, and is what the run then computes. */
class OutOfDateTest {
  private static final String EVERY_CUT = "judge C1=1, judge C2=1";

  @TempDir
  private Path folder;

  private Desk desk;

  @BeforeEach
  void runOnce() throws Exception {
    desk = new Desk(folder);
    assertThat(desk.run().toString())
        .isEqualTo(
            "{half=1, judge C1=3, judge C2=1, level E01=1, level E02=1, levels=1, read E01=1, "
                + "read E02=1, scale E01=2, scale E02=2, weigh=1}");
  }

  @Test
  void nothingIsOutOfDateAfterARun() throws Exception {
    assertThat(desk.runner.outOfDate(desk.text)).contains(OutOfDate.NOTHING);
    assertThat(desk.runner.standing().upToDate()).isTrue();
    assertThat(desk.run()).isEmpty();
    assertThat(desk.why()).isEmpty();
  }

  @Test
  void anotherProcessKnowsTooAndADamagedTraceTellsNothingFalse() throws Exception {
    desk.replace("scans/E02.txt", "-6", "-7");
    desk.anotherProcess();
    assertThat(desk.outOfDate()).containsEntry("clean", "scan E02 changed");
    Path traces = desk.cache.resolve("traces");
    try (var all = Files.list(traces)) {
      for (Path one : all.toList()) {
        byte[] bytes = Files.readAllBytes(one);
        bytes[bytes.length / 2] ^= 1;
        Files.write(one, bytes);
      }
    }
    desk.anotherProcess();
    assertThat(desk.runner.outOfDate(desk.text)).isEmpty();
    Standing standing = desk.runner.standing();
    assertThat(standing.upToDate()).isFalse();
    assertThat(standing.words())
        .containsExactly(
            "scans/E02.txt changed since the record was written",
            "the run that gave this record is not remembered here: which cells and steps hang on that "
                + "can be told after the next run");
  }

  @Test
  void proseAndCommentsReachNothing() throws Exception {
    desk.edit("Some words.", "Other words,\n\non more lines.");
    assertThat(desk.runner.outOfDate(desk.text)).contains(OutOfDate.NOTHING);
    assertThat(desk.run()).isEmpty();
    desk.edit("@Op(", "// one half\n\n/* of it */ @Op(");
    OutOfDate found = desk.runner.outOfDate(desk.text).orElseThrow();
    assertThat(found.cells()).isEmpty();
    assertThat(found.beside())
        .containsExactly("cell `own`: only comments or layout changed; nothing is computed again");
    assertThat(desk.runner.standing().upToDate()).isFalse();
    assertThat(desk.run()).isEmpty();
    assertThat(desk.runner.standing().upToDate()).isTrue();
  }

  @Test
  void aStatementAddedAboveLeavesTheRestAsItIs() throws Exception {
    desk.edit("var across =", "int number = 4;\nvar across =");
    assertThat(desk.outOfDate()).containsExactly(entry("setup", "it was edited"));
    assertThat(desk.run()).isEmpty();
  }

  @Test
  void aParameterReachesWhatIsDownstreamAndNoMore() throws Exception {
    desk.edit("new Half(first)", "new Half(second)");
    assertThat(desk.outOfDate())
        .containsExactly(entry("own", "it was edited"), entry("diamond", "cell `own` was edited"));
    OutOfDate found = desk.runner.outOfDate(desk.text).orElseThrow();
    assertThat(found.of("own").orElseThrow().steps()).containsExactly("own/half");
    assertThat(found.of("diamond").orElseThrow().steps()).containsExactly("diamond/probe.judge.1");
    assertThat(desk.run().toString()).isEqualTo("{half=1, judge C1=1}");
  }

  @Test
  void aFiltersParameterIsToldWithBothValues() throws Exception {
    desk.edit("ratio(3)", "ratio(4)");
    assertThat(desk.outOfDate())
        .containsExactly(
            entry("clean", "it was edited"),
            entry("levels", "cell `clean` was edited"),
            entry("own", "cell `clean` was edited"),
            entry("picked", "cell `clean` was edited"),
            entry("diamond", "cell `clean` was edited"),
            entry("verdicts", "cell `clean` was edited"),
            entry("sheet", "cell `clean` was edited"));
    assertThat(desk.run().toString())
        .isEqualTo("{half=1, judge C1=3, judge C2=1, level E01=1, level E02=1, levels=1, "
            + "scale E01=1, scale E02=1, weigh=1}");
    assertThat(desk.why())
        .containsEntry("clean", "parameter factor of probe.scale changed from 3 to 4 (line 11)")
        .containsEntry("levels", "cell `clean` was edited")
        .containsEntry("verdicts", "cell `clean` was edited");
  }

  @Test
  void aScanReachesItsPassAndWhatIsDownstream() throws Exception {
    desk.replace("scans/E01.txt", "6", "7");
    String why = "scan E01 changed";
    assertThat(desk.outOfDate())
        .containsExactly(
            entry("setup", why),
            entry("clean", why),
            entry("levels", why),
            entry("own", why),
            entry("diamond", why),
            entry("sheet", why));
    OutOfDate found = desk.runner.outOfDate(desk.text).orElseThrow();
    assertThat(found.of("levels").orElseThrow().steps()).containsExactly("levels/levels/E01");
    assertThat(found.of("levels").orElseThrow().sentence())
        .isEqualTo("cell `levels`: scan E01 changed");
    assertThat(desk.run().toString())
        .isEqualTo("{half=1, judge C1=2, level E01=1, levels=1, read E01=1, scale E01=2}");
    assertThat(desk.why().values()).containsOnly(why);
  }

  @Test
  void aSurveyRowReachesItsPassAlone() throws Exception {
    desk.replace("survey.csv", "0,0.2,1,0.2", "0,0.2,1.5,0.2");
    String why = "the survey row of scan E02 changed (end)";
    assertThat(desk.outOfDate())
        .containsExactly(
            entry("setup", why),
            entry("clean", why),
            entry("levels", why),
            entry("picked", why),
            entry("diamond", why),
            entry("verdicts", why));
    assertThat(desk.run()).containsEntry("scale E02", 2).doesNotContainKey("scale E01");
  }

  @Test
  void anotherPassReachesWhatTakesAllPasses() throws Exception {
    desk.addPass("E03");
    assertThat(desk.outOfDate())
        .containsEntry("setup", "scan E03 is new in the survey table")
        .containsEntry("diamond", "scan E03 is new in the survey table");
    assertThat(desk.run().toString()).isEqualTo("{level E03=1, levels=1, read E03=1, scale E03=2}");
  }

  @Test
  void aCsvBlockReachesItsReaders() throws Exception {
    desk.edit("E01,0.1,1.5", "E01,0.1,1.5\nE01,0.2,1.5");
    assertThat(desk.outOfDate())
        .containsExactly(
            entry("picked", "data `hand-picks` changed"),
            entry("verdicts", "data `hand-picks` changed"));
    assertThat(desk.run().toString()).isEqualTo("{" + EVERY_CUT + ", weigh=1}");
    assertThat(desk.why()).containsEntry("picked", "data `hand-picks` changed");
    desk.edit("E01,0.2,1.5", "E01, 0.2, 1.5");
    assertThat(desk.run()).isEmpty();
  }

  @Test
  void aClearanceReachesWhatReadsTheCuts() throws Exception {
    desk.sheet("60 mm", "yes");
    String why = "the job sheet changed (clearance of metal)";
    assertThat(desk.outOfDate())
        .containsExactly(entry("diamond", why), entry("verdicts", why), entry("sheet", why));
    assertThat(desk.run().toString()).isEqualTo("{judge C1=3, judge C2=1}");
    assertThat(desk.why()).containsEntry("verdicts", why);
  }

  @Test
  void aFactOfTheSheetReachesWhatReadsThatFact() throws Exception {
    desk.sheet("50 mm", "no");
    assertThat(desk.outOfDate())
        .containsExactly(entry("sheet", "the job sheet changed (notes.deep)"));
    assertThat(desk.run().toString()).isEqualTo("{judge C1=1}");
    desk.replace("job.toml", "dry", "wet");
    OutOfDate found = desk.runner.outOfDate(desk.text).orElseThrow();
    assertThat(found.cells()).isEmpty();
    assertThat(found.beside())
        .containsExactly(
            "the job sheet changed (notes.weather); no cell reads that, and nothing is "
                + "computed again");
    assertThat(desk.run()).isEmpty();
  }

  @Test
  void aCutReachesTheStepsOfThatCut() throws Exception {
    desk.replace("cuts.csv", "C2,core,0.6", "C2,core,0.7");
    assertThat(desk.outOfDate())
        .containsExactly(entry("verdicts", "proposed cut C2 changed (start, end)"));
    OutOfDate found = desk.runner.outOfDate(desk.text).orElseThrow();
    assertThat(found.cells().get(0).steps()).containsExactly("verdicts/probe.judge.1/C2");
    assertThat(desk.run().toString()).isEqualTo("{judge C2=1}");
  }

  @Test
  void aRenamedVariableCostsWhatItsAddressIsIn() throws Exception {
    desk.edit("var half", "var halved").edit("new Judge(half", "new Judge(halved");
    assertThat(desk.outOfDate())
        .containsExactly(
            entry("own", "it was edited"),
            entry("diamond", "it was edited; cell `own` was edited"));
    assertThat(desk.run().toString()).isEqualTo("{half=1, judge C1=1}");
    // a filter's address is in no key: renaming its variable costs nothing itself
    desk.edit("var clean =", "var cleaned =").edit("= clean.each", "= cleaned.each");
    assertThat(desk.run()).isEmpty();
  }

  @Test
  void aRenamedCellCostsItsOperations() throws Exception {
    desk.edit("```java own", "```java halves");
    assertThat(desk.outOfDate())
        .containsExactly(
            entry("halves", "it is new, named `own` before"),
            entry("diamond", "cell `halves` is new, named `own` before"));
    assertThat(desk.run().toString()).isEqualTo("{half=1, judge C1=1}");
  }

  @Test
  void whatADeletedCellDefinedIsMissingBelow() throws Exception {
    desk.edit(
        "```java picked\nvar weighed = run(new Weigh(second, picks(\"hand-picks\")));\n```\n", "");
    assertThat(desk.outOfDate())
        .containsExactly(entry("verdicts", "cell `picked`, which defined weighed, is gone"));
    desk.anotherProcess();
    assertThatThrownBy(() -> desk.run())
        .isInstanceOf(BadInput.class)
        .hasMessage(
            "cell verdicts, line 43: cannot find symbol: variable weighed. In the last complete "
                + "run cell `picked` defined it, which is gone");
  }

  @Test
  void anOperationOfACellThatChangesIsComputedAgain() throws Exception {
    desk.edit("return of.get();", "return of.get().times(0.5);");
    assertThat(desk.outOfDate().keySet()).containsExactly("own", "diamond");
    assertThat(desk.run().toString()).isEqualTo("{half=1, judge C1=1}");
    assertThat(desk.why())
        .containsExactly(entry("own", "it was edited"), entry("diamond", "cell `own` was edited"));
  }

  @Test
  void whatDoesNotCompileIsToldByTheText() throws Exception {
    desk.edit("new Half(first)", "new Half(first");
    assertThat(desk.outOfDate())
        .containsExactly(entry("own", "it was edited"), entry("diamond", "cell `own` was edited"));
  }

  @Test
  void aListThatAnotherCellMayHaveChangedIsNotTrusted() throws Exception {
    desk.edit(
            "```java setup\n",
            "```java setup\nvar shared = new ArrayList<Double>();\nvar fixed = List.of(2.0);\n")
        .edit("```java picked\n", "```java picked\nshared.add(1.0);\nvar x = fixed.get(0);\n")
        .edit(
            "```java verdicts\n",
            "```java verdicts\nvar sum = shared.get(0);\nvar same = fixed.get(0);\n");
    desk.run();
    desk.edit("shared.add(1.0)", "shared.add(2.0)");
    assertThat(desk.outOfDate())
        .containsExactly(
            entry("picked", "it was edited"), entry("verdicts", "cell `picked` was edited"));
    desk.run();
    desk.edit("var x = fixed.get(0)", "var x = 2 * fixed.get(0)");
    assertThat(desk.outOfDate()).containsExactly(entry("picked", "it was edited"));
  }

  @Test
  void aRunTellsHowLongItMayTakeAndItsRecordDoesNotHangOnThat() throws Exception {
    byte[] record = Files.readAllBytes(desk.job.resolve("interpretation.record.jsonl"));
    assertThat(desk.cache.resolve("durations")).isRegularFile();
    Files.write(desk.cache.resolve("durations"), new byte[] {1, 2, 3});
    desk.runner.run(RunListener.NONE);
    assertThat(desk.job.resolve("interpretation.record.jsonl")).hasBinaryContent(record);
    for (String name : JobFixture.names(desk.job)) {
      assertThat(name).doesNotContain("duration").doesNotContain("trace");
    }
  }

  @Test
  void theRunThatFollowsComputesNothingThatWasNotTold() throws Exception {
    for (List<String> edit : List.of(
        List.of("ratio(2)", "ratio(6)"),
        List.of("levels.of(\"E02\")", "levels.of(\"E01\")"),
        List.of("new Judge(half, cuts(\"C1\"))", "new Judge(half, cuts(\"C2\"))"))) {
      desk.edit(edit.get(0), edit.get(1));
      OutOfDate told = desk.runner.outOfDate(desk.text).orElseThrow();
      desk.run();
      List<String> steps =
          told.cells().stream().flatMap(one -> one.steps().stream()).toList();
      List<String> computed = desk.runner.why().stream()
          .flatMap(one -> one.steps().stream())
          .filter(address -> !address.startsWith("scan/")) // read again for what is computed of it
          .toList();
      assertThat(computed).isNotEmpty();
      assertThat(steps).containsAll(computed);
    }
  }
}
