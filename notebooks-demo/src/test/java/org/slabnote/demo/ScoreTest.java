package org.slabnote.demo;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;

/** The measure itself: each way to be wrong must show. Places and depths by hand. */
class ScoreTest {
  private static final Score.Tolerance NEAR = new Score.Tolerance(0.015, 5, 0.015, false);
  private static final String HEAD =
      "name,kind,x_m,y_m,x2_m,y2_m,depth_m,depth_u95_m,reference," + "pair_ratio_db,status\n";
  private static final List<Truth> ONE_BAR =
      Truth.read("name,kind,x_m,y_m,x2_m,y2_m,depth_top_m,diameter_m,material\n"
          + "b1,bar,0,0.3,1.2,0.3,0.050,0.012,metal\n");

  private static Score score(String... rows) {
    String csv = HEAD + String.join("\n", rows) + "\n";
    return Score.of(ONE_BAR, rows.length == 0 ? List.of() : Found.read(csv), NEAR);
  }

  private static void isMissedAndFalse(String row) {
    Score score = score(row);
    assertThat(score.recall()).isZero();
    assertThat(score.missed()).extracting(Truth::name).containsExactly("b1");
    assertThat(score.falseProbable()).extracting(Found::name).containsExactly("T01");
  }

  @Test
  void aBarWhereItIsIsFoundAndCovered() {
    Score score = score("T01,metal,1.15,0.305,0.05,0.301,0.0540,0.005,top,4.6,probable");
    assertThat(score.recall()).isEqualTo(1);
    assertThat(score.coverage()).isEqualTo(1);
    assertThat(score.falseProbable()).isEmpty();
    assertThat(score.matches().get(0).depthError()).isCloseTo(0.004, within(1e-12));
    assertThat(score.matches().get(0).share()).isCloseTo(1.1 / 1.2, within(0.01));
  }

  @Test
  void nothingFoundIsAMiss() {
    assertThat(score().recall()).isZero();
    assertThat(score().missed()).hasSize(1);
  }

  @Test
  void aDepthOutsideItsOwnUncertaintyIsFoundButNotCovered() {
    Score score = score("T01,metal,0,0.3,1.2,0.3,0.0560,0.005,top,,probable");
    assertThat(score.recall()).isEqualTo(1);
    assertThat(score.coverage()).isZero();
  }

  @Test
  void aWideUncertaintyDoesNotMakeAWrongDepthRight() {
    isMissedAndFalse("T01,metal,0,0.3,1.2,0.3,0.0660,0.100,top,,probable");
  }

  /** ... unless it is asked whether what was stated holds. */
  @Test
  void aWideUncertaintyCountsWhereItIsAskedFor() {
    Score.Tolerance stated = new Score.Tolerance(0.015, 5, 0.015, true);
    List<Found> wide = Found.read(HEAD + "T01,metal,0,0.3,1.2,0.3,0.0760,0.030,top,,probable\n");
    List<Found> narrow = Found.read(HEAD + "T01,metal,0,0.3,1.2,0.3,0.0760,0.020,top,,probable\n");
    assertThat(Score.of(ONE_BAR, wide, stated).recall()).isEqualTo(1);
    assertThat(Score.of(ONE_BAR, narrow, stated).recall()).isZero();
  }

  @Test
  void asideIsElsewhere() {
    isMissedAndFalse("T01,metal,0,0.316,1.2,0.316,0.0500,0.005,top,,probable");
  }

  /** 1.2 tan(5.7 deg) = 0.12: its middle lies on the bar, its direction is not the bar's. */
  @Test
  void aslantIsElsewhere() {
    isMissedAndFalse("T01,metal,0,0.24,1.2,0.36,0.0500,0.005,top,,probable");
  }

  @Test
  void beyondTheEndIsElsewhere() {
    isMissedAndFalse("T01,metal,1.3,0.3,1.5,0.3,0.0500,0.005,top,,probable");
  }

  @Test
  void aPlaneIsNoBar() {
    isMissedAndFalse("T01,plane,0,0.3,1.2,0.3,0.0500,0.005,top,,probable");
  }

  @Test
  void lessThanHalfOfABarIsNotTheBar() {
    Score score = score("T01,metal,0,0.3,0.5,0.3,0.0500,0.005,top,,probable");
    assertThat(score.recall()).isZero();
    assertThat(score.falseProbable()).isEmpty();
  }

  @Test
  void piecesCountTogetherAndTheLongestStandsForThem() {
    Score score = score(
        "T01,metal,0,0.3,0.5,0.3,0.0500,0.005,top,,probable",
        "T02,metal,0.6,0.3,1.2,0.3,0.0580,0.005,top,,probable",
        "T03,metal,0.1,0.3,0.9,0.3,0.0501,0.005,top,,possible");
    assertThat(score.recall()).isEqualTo(1);
    assertThat(score.matches().get(0).found().name()).isEqualTo("T02");
    assertThat(score.coverage()).isZero();
  }

  @Test
  void aPointSeenOnOnePassIsABarWhereItLies() {
    Score score = score("T01,metal,0.6,0.310,,,0.0500,0.005,top,,possible");
    assertThat(score.recall()).isEqualTo(1);
    assertThat(score.mistaken()).isEmpty();
  }

  @Test
  void onlyProbableFindingsCountAsFalse() {
    Score score = score(
        "T01,metal,0,0.3,1.2,0.3,0.0500,0.005,top,,probable",
        "T02,metal,0,0.9,1.2,0.9,0.0500,0.005,top,,possible",
        "T03,metal,0,0.6,1.2,0.6,0.0500,0.005,top,,probable");
    assertThat(score.mistaken()).extracting(Found::name).containsExactly("T02", "T03");
    assertThat(score.falseProbable()).extracting(Found::name).containsExactly("T03");
  }

  @Test
  void aPlaneIsComparedByItsDepth() {
    List<Found> base = Found.read(HEAD + "T01,plane,0.6,0.6,,,0.2040,0.005,top,,probable\n");
    List<Truth> truths = Arrays.asList(Truth.plane("base", 0.200));
    assertThat(Score.of(truths, base, NEAR).mistaken()).isEmpty();
    assertThat(Score.of(truths, base, NEAR).coverage()).isEqualTo(1);
    assertThat(Score.of(truths, List.of(), NEAR).recall()).isEqualTo(1);
    assertThat(Score.of(List.of(Truth.plane("base", 0.25)), base, NEAR).falseProbable())
        .hasSize(1);
  }

  private static org.assertj.core.data.Offset<Double> within(double offset) {
    return org.assertj.core.data.Offset.offset(offset);
  }
}
