package org.slabnote.app.create;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;
import org.slabnote.api.Target;
import org.slabnote.api.VelocityEstimate;
import org.slabnote.api.Verdict;
import org.slabnote.app.Slab;
import org.slabnote.engine.run.JobRunner;
import org.slabnote.engine.run.Outcome;
import org.slabnote.engine.run.RunListener;

/**
 * Starter notebooks, not edited, on invented scans of one slab: a bar along y at x 0.300 m, 50 mm deep, and
 * one along x at y 0.200 m, 65 mm deep, permittivity 7. That the notebooks serve, not how well the methods
 * do: for that see the methods' own checks.
 */
class StarterRunsTest {
  @TempDir
  @SuppressWarnings("NullAway.Init")
  Path folder;

  private Outcome run(String table, String cuts) throws Exception {
    Path survey = Slab.survey(folder, table);
    Optional<Path> planned = cuts.isEmpty()
        ? Optional.empty()
        : Optional.of(Files.writeString(folder.resolve("cores.csv"), cuts));
    Path job = folder.resolve("job");
    new NewJob(job, survey, planned, Optional.empty()).make(stage -> {});
    return JobRunner.of(job, folder.resolve("cache"), 2).run(RunListener.NONE);
  }

  private static String row(String pass, boolean across, boolean east, double at) {
    String place = east ? "0," + at + ",0.6," + at : at + ",0," + at + ",0.6";
    return pass + "," + (across ? "a" : "b") + "," + pass + (across ? "a" : "b") + ".sgy,"
        + (across ? "90,90," : "0,0,") + place + ",0.04,0.06,2000\n";
  }

  static List<Arguments> surveys() {
    return List.of(
        Arguments.of("one pass, both", Slab.ONE_PASS),
        Arguments.of("one pass, along", Slab.HEAD + row("E1", false, true, 0.3)),
        Arguments.of(
            "across one way, along the other",
            Slab.HEAD
                + row("E1", true, true, 0.3)
                + row("E2", true, true, 0.4)
                + row("S1", false, false, 0.4)
                + row("S2", false, false, 0.5)));
  }

  @ParameterizedTest(name = "{0}")
  @MethodSource("surveys")
  void findsTheBarThatThePassesCross(String name, String table) throws Exception {
    Outcome outcome = run(table, "");
    assertThat(outcome.findings().orElseThrow().list()).anySatisfy(StarterRunsTest::isTheBarAlongY);
    assertThat(outcome.facts().values().values())
        .hasAtLeastOneElementOfType(VelocityEstimate.class);
    assertThat(outcome.seen()).isPresent();
    assertThat(outcome.ledger()).isPresent();
    assertThat(outcome.demands())
        .extracting(demand -> demand.name())
        .contains("acquisition", "velocity", "events", "visibility", "targets");
  }

  private static void isTheBarAlongY(Target target) {
    double depth = target.depth().value().value();
    assertThat(target.start().x().value()).isBetween(0.28, 0.32);
    assertThat(Math.abs(depth - 0.050)).isLessThanOrEqualTo(target.depth().u95().value());
  }

  @Test
  void tellsOfACoreThroughTheBar() throws Exception {
    String table = Slab.HEAD
        + row("E1", true, true, 0.3)
        + row("E2", true, true, 0.4)
        + row("E3", true, true, 0.5);
    String cuts = "name,kind,x_m,y_m,x2_m,y2_m,diameter_m,depth_m,room_m\n"
        + "C1,core,0.31,0.40,,,0.05,0.12,\n";
    Outcome outcome = run(table, cuts);
    assertThat(outcome.conclusions()).hasSize(1);
    assertThat(outcome.conclusions().get(0).verdict()).isEqualTo(Verdict.INFRINGES);
  }
}
