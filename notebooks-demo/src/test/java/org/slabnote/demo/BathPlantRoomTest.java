package org.slabnote.demo;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * The demo job as it is committed, run from an empty cache and compared with the slab that its scans
 * were made from ({@code truth.csv}). Invented data: this shows that the parts work together; that each
 * is right is shown against outside values, beside each.
 *
 * <p>Near means: 15 mm in plan, about what a mark transferred to a slab holds; 5 degrees; 15 mm in
 * depth, half the 32 mm and less that part two things of this slab above one another (common practice,
 * no source).
 */
class BathPlantRoomTest {
  private static final Path JOB = Path.of("bath-plant-room").toAbsolutePath();
  private static final Score.Tolerance NEAR = new Score.Tolerance(0.015, 5, 0.015, false);

  @TempDir
  private static Path folder;

  private static Score score;
  private static Map<String, JsonNode> conclusions;
  private static String summary;

  @BeforeAll
  static void run() throws Exception {
    Folders.copy(JOB, folder.resolve("job"));
    Files.deleteIfExists(folder.resolve("job/interpretation.record.jsonl"));
    Files.deleteIfExists(folder.resolve("job/interpretation.digests"));
    Slabnote slabnote = Slabnote.in(folder);
    summary = slabnote.done("run", "job");
    List<Found> found = Found.read(slabnote.done("table", "job", "targets"));
    List<Truth> truths = new ArrayList<>(Truth.read(Folders.text(JOB.resolve("truth.csv"))));
    truths.add(Truth.plane("base", BathPlantRoom.slab().concrete().thickness().value()));
    score = Score.of(truths, found, NEAR);
    conclusions = new TreeMap<>();
    for (String line : Files.readAllLines(folder.resolve("job/interpretation.record.jsonl"))) {
      JsonNode fact = new ObjectMapper().readTree(line);
      if (fact.has("conclusion")) {
        conclusions.put(fact.get("conclusion").asText(), fact);
      }
    }
  }

  /** Both files must be there: the record is part of the job, and this is its recheck. */
  @ParameterizedTest
  @ValueSource(strings = {"interpretation.record.jsonl", "interpretation.digests"})
  void theCommittedRecordIsWhatARunFromTheScansGives(String name) throws Exception {
    assertThat(JOB.resolve(name)).isRegularFile();
    List<String> committed = Files.readAllLines(JOB.resolve(name));
    List<String> now = Files.readAllLines(folder.resolve("job").resolve(name));
    for (int i = 0; i < Math.min(committed.size(), now.size()); i++) {
      assertThat(now.get(i)).as(name + ", line " + (i + 1)).isEqualTo(committed.get(i));
    }
    assertThat(Files.mismatch(JOB.resolve(name), folder.resolve("job").resolve(name)))
        .isEqualTo(-1);
  }

  @Test
  void theSurveyTableIsThatOfTheScans() {
    assertThat(Folders.text(JOB.resolve("survey.csv"))).isEqualTo(BathPlantRoom.surveyTable());
  }

  /** 8 bars in the top mat, 6 in the bottom one, and a tendon, a conduit and a pipe between them. */
  @Test
  void theTruthHoldsWhatTheSlabHolds() {
    assertThat(Truth.read(Folders.text(JOB.resolve("truth.csv"))))
        .hasSize(17)
        .extracting(Truth::name)
        .containsExactlyInAnyOrderElementsOf(BathPlantRoom.slab().cylinders().stream()
            .map(cylinder -> cylinder.name())
            .toList());
  }

  @Test
  void everyBarTheTendonTheConduitAndThePipeAreFound() {
    assertThat(score.missed()).as(score.toString()).isEmpty();
    assertThat(score.recall()).isEqualTo(1);
  }

  /** Nine in ten: 95 % is stated; 17 lines that share velocity and time zero are not 17 trials. */
  @Test
  void nineDepthsInTenLieWithinTheirStatedUncertainty() {
    assertThat(score.coverage()).as(score.toString()).isGreaterThanOrEqualTo(0.9);
  }

  @Test
  void nothingIsProbableThatIsNotThere() {
    assertThat(score.falseProbable()).as(score.toString()).isEmpty();
  }

  /** The pipe is the one thing here that is not metal. */
  @Test
  void metalReadsAsMetal() {
    assertThat(score.matches())
        .filteredOn(match -> match.truth().metal())
        .allSatisfy(match -> assertThat(match.found().kind()).isEqualTo("metal"));
  }

  /** The tendon crosses C2 at 98 mm; nothing lies in C1 or C3 (truth.csv, cuts.csv). */
  @Test
  void theCoreThatHitsIsToldAndTheOthersWithWhatWasNotSeen() {
    assertThat(conclusions.keySet()).containsExactly("C1", "C2", "C3");
    assertThat(conclusions.get("C2").get("verdict").asText()).isEqualTo("infringes");
    for (String core : List.of("C1", "C3")) {
      JsonNode conclusion = conclusions.get(core);
      String statement = conclusion.get("statement").asText();
      assertThat(conclusion.get("verdict").asText())
          .as(statement)
          .isEqualTo("nothing detected within");
      assertThat(statement)
          .containsPattern("nothing detected within \\d+ mm down to \\d+ mm")
          .containsPattern("smallest detectable .*\\d+ mm")
          .contains("not seen: ")
          .contains("engineer of record");
    }
  }

  @Test
  void noWordReadsAsLeaveToCut() {
    conclusions.forEach((core, conclusion) ->
        assertThat(Words.ofPermission(conclusion.get("statement").asText())).isEmpty());
    assertThat(Words.ofPermission(summary)).isEmpty();
  }
}
