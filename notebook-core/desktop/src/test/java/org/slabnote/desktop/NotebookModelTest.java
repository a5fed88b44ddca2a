package org.slabnote.desktop;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;

class NotebookModelTest {
  private final NotebookModel model = new NotebookModel(SlabFixture.NOTEBOOK);

  @Test
  void aPickIsALineAtTheEndOfItsBlockAndNothingElseChanges() {
    model.addPick("picks-E01", "E01", 0.41239, 3.20004);

    assertThat(model.text())
        .isEqualTo(SlabFixture.NOTEBOOK.replace(
            "E01,0.2000,2.0000\n", "E01,0.2000,2.0000\nE01,0.4124,3.2000\n"));
    assertThat(model.unsavedProperty().get()).isTrue();
  }

  @Test
  void aPickOfAnotherPassMakesABlockAboveTheCellThatNamesIt() {
    NotebookModel other = new NotebookModel("""
        ```java one
        var a = 1;
        ```

        ```java two
        var p = picks("picks-S02");
        ```
        """);

    other.addPick(NotebookModel.blockFor("S02"), "S02", 0.1, 1.5);

    assertThat(other.text()).isEqualTo("""
        ```java one
        var a = 1;
        ```

        ```csv picks-S02
        pass,distance_m,time_ns
        S02,0.1000,1.5000
        ```

        ```java two
        var p = picks("picks-S02");
        ```
        """);
  }

  @Test
  void aNotebookWithoutCellsGetsTheBlockAtItsEnd() {
    NotebookModel other = new NotebookModel("Words");

    other.addPick("picks-E1", "E1", 0, 0);

    assertThat(other.text())
        .isEqualTo("Words\n\n```csv picks-E1\npass,distance_m,time_ns\nE1,0.0000,0.0000\n```\n");
  }

  @Test
  void picksAreReadBackAndTakenOut() {
    model.addPick("picks-E01", "E01", 0.4, 3.2);

    assertThat(model.picks())
        .containsExactly(
            new NotebookModel.PickLine("picks-E01", 1, "E01", 0.2, 2.0),
            new NotebookModel.PickLine("picks-E01", 2, "E01", 0.4, 3.2));

    model.removePick(model.picks().get(1));

    assertThat(model.text()).isEqualTo(SlabFixture.NOTEBOOK);
    assertThat(model.unsavedProperty().get()).isFalse();
  }

  @Test
  void aPassWithACommaKeepsItsName() {
    model.addPick("picks-E01", "E01, north \"b\"", 0.4, 3.2);

    assertThat(model.picks().get(1).pass()).isEqualTo("E01, north \"b\"");
    assertThat(model.text()).contains("\"E01, north \"\"b\"\"\",0.4000,3.2000\n");
  }

  @Test
  void lineEndsStayAsTheTextHasThem() {
    NotebookModel windows = new NotebookModel(SlabFixture.NOTEBOOK.replace("\n", "\r\n"));

    windows.addPick("picks-E01", "E01", 0.4, 3.2);
    windows.replace("setup", "var along = scans(ALONG);");

    assertThat(windows.text().replace("\r\n", "")).doesNotContain("\n", "\r");
    assertThat(windows.text()).contains("E01,0.4000,3.2000\r\n", "var along = scans(ALONG);\r\n");
  }

  @Test
  void aBlockNameIsMadeOfWhatANameMayHold() {
    assertThat(NotebookModel.blockFor("E 04/b")).isEqualTo("picks-E-04-b");
  }
}
