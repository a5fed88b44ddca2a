package org.slabnote.app.create;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;
import org.slabnote.api.Cut;
import org.slabnote.app.Slab;
import org.slabnote.engine.document.Document;
import org.slabnote.engine.job.CutsTable;
import org.slabnote.engine.job.SurveyTable;
import org.slabnote.engine.problem.BadInput;

class StarterNotebookTest {
  private static final String CUTS =
      "name,kind,x_m,y_m,x2_m,y2_m,diameter_m,depth_m,room_m\nC1,core,0.52,0.31,,,0.04,0.13,0.05\n";

  private static String row(String pass, boolean across, boolean east, double at, double mhz) {
    String dipole = across ? "90,90" : "0,0";
    String place = east ? "0," + at + ",1.2," + at : at + ",0," + at + ",1.2";
    return pass + "," + (across ? "a" : "b") + "," + pass + (across ? "a" : "b") + ".sgy," + dipole
        + "," + place + ",0.04,0.06," + mhz + "\n";
  }

  private static String grid(int each) {
    StringBuilder rows = new StringBuilder(Slab.HEAD);
    for (boolean east : new boolean[] {true, false}) {
      for (int i = 0; i < each; i++) {
        String pass = (east ? "E" : "S") + (10 + i);
        rows.append(row(pass, true, east, i / 10.0, 2000));
        rows.append(row(pass, false, east, i / 10.0, 2000));
      }
    }
    return rows.toString();
  }

  static List<Arguments> surveys() {
    String across = IntStream.range(0, 6)
        .mapToObj(i -> row("E" + i, true, true, i / 10.0, 1500))
        .collect(Collectors.joining());
    String alongOnly = row("N1", false, false, 0.1, 900) + row("N2", false, false, 0.2, 900);
    String room = row("E1", true, true, 0.1, 2600)
        + row("E2", true, true, 0.2, 2600)
        + row("S1", false, false, 0.1, 2600)
        + row("S2", false, false, 0.2, 2600);
    return List.of(
        Arguments.of("one pass, both orientations", Slab.ONE_PASS, ""),
        Arguments.of("one pass, across", Slab.HEAD + row("E1", true, true, 0.1, 2000), ""),
        Arguments.of("one direction, across, with a cut", Slab.HEAD + across, CUTS),
        Arguments.of("along only", Slab.HEAD + alongOnly, CUTS),
        Arguments.of("across one way, along the other", Slab.HEAD + room, ""),
        Arguments.of(
            "crossed dipoles only", Slab.HEAD + "E1,x,E1x.sgy,90,0,0,0,1,0,0.04,0.06,2000\n", ""),
        Arguments.of("a grid of fifty, both", grid(25), CUTS));
  }

  private static SurveyFacts facts(String table, String cuts) throws BadInput {
    List<Cut> planned =
        cuts.isEmpty() ? List.of() : CutsTable.parse("cuts.csv", cuts, new java.util.TreeMap<>());
    return new SurveyFacts(
        "Test slab", SurveyTable.parse("survey.csv", table), planned, new java.util.TreeMap<>());
  }

  @ParameterizedTest(name = "{0}")
  @MethodSource("surveys")
  void isSoundAndLeavesNoPlaceholder(String name, String table, String cuts) throws BadInput {
    String text = StarterNotebook.text(facts(table, cuts));
    Document document = Document.parse("interpretation.md", text);
    assertThat(document.problems()).isEmpty();
    assertThat(document.cells()).hasSize(cuts.isEmpty() ? 11 : 12);
    assertThat(document.data()).isEmpty();
    assertThat(text).doesNotContainPattern("\\{[a-z]+}");
    assertThat(text.lines().filter(line -> line.length() > 110 && !line.startsWith("- ")))
        .isEmpty();
  }

  @Test
  void showsThePassesThroughTheCutAndTheFirstOfEachDirection() throws BadInput {
    assertThat(facts(grid(12), CUTS).shown()).containsExactly("E10", "E13", "S10", "S15");
  }

  @Test
  void takesItsSettingsFromTheFrequencies() throws BadInput {
    SurveyFacts facts =
        facts(Slab.HEAD + row("E1", true, true, 0.1, 900) + row("E2", true, true, 0.2, 2600), "");
    assertThat(facts.dewow()).isEqualTo(1.67);
    assertThat(facts.bandLow()).isEqualTo(225);
    assertThat(facts.bandHigh()).isEqualTo(6500);
    assertThat(facts.coarse()).isFalse();
  }

  @Test
  void keepsTheBandBelowNyquistWhereSamplesAreFarApart() throws BadInput {
    String coarse = Slab.HEAD + "E1,a,E1.sgy,90,90,0,0,1,0,0.2,0.06,1600\n";
    assertThat(facts(coarse, "").bandHigh()).isEqualTo(2250);
    assertThat(facts(coarse, "").coarse()).isTrue();
  }

  @Test
  void keepsATitleWithQuotesInJobSheetAndNotebook(@TempDir Path folder) throws Exception {
    Path survey = Slab.survey(folder, Slab.ONE_PASS);
    Path job = folder.resolve("job");
    new NewJob(job, survey, Optional.empty(), Optional.of("The \"old\" slab \\ bay 4"))
        .make(stage -> {});
    assertThat(Files.readString(job.resolve("interpretation.md")))
        .startsWith("# The \"old\" slab \\ bay 4\n");
    assertThat(Files.readString(job.resolve("job.toml")))
        .contains("title = \"The \\\"old\\\" slab \\\\ bay 4\"");
  }
}
