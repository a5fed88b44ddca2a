package org.slabnote.demo;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.slabnote.api.SurveyRow;

/**
 * Front process and worker are killed (SIGKILL on Unix) at random moments of a run: the job folder stays
 * intact, no process stays behind, and the next run gives the record byte for byte.
 *
 * <p>The default build kills {@value #FEW} times; {@code mvn -Pkills} 200 times and writes
 * docs/survival.md. Moments are seeded; what they hit depends on the machine.
 */
class KillsTest {
  private static final int FEW = 8;
  private static final long SEED = 20260101;
  private static final List<String> PASSES = List.of("E06", "S06");

  @TempDir
  private static Path folder;

  private static Victim small;

  private @Nullable Victim large;

  @BeforeAll
  static void makeAJob() throws Exception {
    Path passes = Files.createDirectory(folder.resolve("passes"));
    Path demo = Path.of("bath-plant-room");
    Files.writeString(
        passes.resolve("survey.csv"),
        BathPlantRoom.surveyTable()
            .lines()
            .filter(line -> line.startsWith("pass,") || PASSES.contains(line.substring(0, 3)))
            .collect(Collectors.joining("\n", "", "\n")));
    Files.copy(demo.resolve("cuts.csv"), passes.resolve("cuts.csv"));
    for (SurveyRow row : BathPlantRoom.rows()) {
      if (PASSES.contains(row.pass())) {
        Files.copy(demo.resolve("scans").resolve(row.file()), passes.resolve(row.file()));
      }
    }
    Slabnote.in(folder)
        .done("new", "job", "--survey", "passes/survey.csv", "--cuts", "passes/cuts.csv");
    small = Victim.of("two passes", folder.resolve("job"), folder.resolve("two"));
  }

  @Test
  void theJobOutlivesEveryKill() throws Exception {
    int kills = Integer.getInteger("slabnote.kills", FEW);
    SplittableRandom random = new SplittableRandom(Long.getLong("slabnote.kills.seed", SEED));
    String report = System.getProperty("slabnote.survival", "");
    long start = System.nanoTime();
    List<Kill> all = new ArrayList<>();
    for (int i = 0; i < kills; i++) {
      Kill.Moment moment = i % 5 == 0
          ? Kill.Moment.FIRST_RUN
          : i % 5 == 4 ? Kill.Moment.RECORD : Kill.Moment.REMEMBERED;
      Kill.Whom whom = Kill.Whom.values()[i % 3];
      Victim victim = i % 19 == 18 ? demo() : small;
      Kill kill = victim.kill(whom, moment, random.nextDouble());
      assertThat(kill.faults()).as("kill %d: %s", i, kill).isEmpty();
      all.add(kill);
      if (!report.isEmpty()) { // each time: a long series may be ended before its end
        SurvivalReport.write(Path.of(report), all, (System.nanoTime() - start) / 1_000_000_000);
      }
    }
    // Or the moments would not be what they are meant to be.
    assertThat(all).filteredOn(kill -> !kill.late()).hasSizeGreaterThan(kills / 4);
  }

  private Victim demo() throws IOException {
    if (large == null) {
      large = Victim.of("the demo job", Path.of("bath-plant-room"), folder.resolve("demo"));
    }
    return large;
  }
}
