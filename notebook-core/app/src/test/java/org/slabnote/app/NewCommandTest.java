package org.slabnote.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.slabnote.engine.job.Job;

class NewCommandTest {
  private static final String CUTS =
      "name,kind,x_m,y_m,x2_m,y2_m,diameter_m,depth_m,room_m\nC1,core,0.45,0.30,,,0.04,0.13,0.05\n";

  @TempDir
  @SuppressWarnings("NullAway.Init")
  Path folder;

  @SuppressWarnings("NullAway.Init")
  private Path survey;

  @SuppressWarnings("NullAway.Init")
  private Path job;

  @BeforeEach
  void survey() throws Exception {
    survey = Slab.survey(folder, Slab.ONE_PASS);
    job = folder.resolve("job");
  }

  private Said make() {
    return Said.of("new", job.toString(), "--survey", survey.toString());
  }

  private void refuses(String message) throws IOException {
    refuses(make(), message);
  }

  /** The whole message, status 2, and nothing written: neither the job nor a part of it. */
  private void refuses(Said said, String message) throws IOException {
    assertThat(said.err().lines().filter(line -> !line.startsWith("reading ")))
        .containsExactly(message);
    assertThat(said.status()).isEqualTo(2);
    assertThat(said.out()).isEmpty();
    try (Stream<Path> files = Files.list(folder)) {
      assertThat(files.map(f -> f.getFileName().toString()))
          .noneMatch(name -> name.contains("job"));
    }
  }

  private void change(String from, String to) throws IOException {
    Files.writeString(survey, Files.readString(survey).replace(from, to));
  }

  @Test
  void makesAJobThatCanBeOpened() throws Exception {
    Path cuts = Files.writeString(folder.resolve("cores.csv"), CUTS);
    Said said = Said.of(
        "new", job.toString(), "-s", survey.toString(), "-c", cuts.toString(), "-t", "Bay 4");
    assertThat(said.err())
        .isEqualTo("reading the survey table\nreading the scans\nwriting the job\n");
    assertThat(said.out())
        .isEqualTo("Job: " + job + " (2 scans)\nFill in " + job.resolve("job.toml")
            + ": the question, the slab, the required clearances.\nThen:  slabnote run " + job
            + "\n");
    assertThat(said.status()).isZero();
    Job opened = Job.open(job);
    assertThat(opened.sheet().title()).isEqualTo("Bay 4");
    assertThat(opened.cuts()).hasSize(1);
    assertThat(opened.notebook().problems()).isEmpty();
    assertThat(Files.readAllBytes(job.resolve("scans/E01a.sgy")))
        .isEqualTo(Files.readAllBytes(folder.resolve("E01a.sgy")));
    assertThat(Files.readString(job.resolve("survey.csv"))).isEqualTo(Slab.ONE_PASS);
    assertThat(Files.readString(job.resolve(".gitattributes")))
        .contains("interpretation.digests -diff\n");
  }

  @Test
  void takesTheFoldersNameWhereNoTitleIsGivenAndAnEmptyFolder() throws Exception {
    Files.createDirectory(job);
    assertThat(make().status()).isZero();
    assertThat(Job.open(job).sheet().title()).isEqualTo("job");
  }

  @Test
  void copiesScansFromBesideTheSurveysFolderUnderAPlainName() throws Exception {
    Path tables = Files.createDirectory(folder.resolve("tables"));
    survey = Files.move(survey, tables.resolve("passes.csv"));
    Files.createDirectory(tables.resolve("in"));
    Files.move(folder.resolve("E01b.sgy"), tables.resolve("in/E01a.sgy"));
    change("E01a.sgy", "../E01a.sgy");
    change("E01b.sgy", "in/E01a.sgy");
    assertThat(make().status()).isZero();
    assertThat(Job.open(job).scans().keySet()).containsExactly("E01a.sgy", "in/E01a.sgy");
    assertThat(Files.readString(job.resolve("survey.csv")))
        .isEqualTo(Slab.ONE_PASS.replace("E01b.sgy", "in/E01a.sgy"));
  }

  @Test
  void copiesThePositionsFileOfAPassAndPlacesTheTraces() throws Exception {
    StringBuilder places = new StringBuilder("trace,x_m,y_m\n");
    for (int i = 1; i <= 61; i++) {
      places.append(i).append(',').append((i - 1) / 100.0).append(",0.3\n");
    }
    Files.writeString(folder.resolve("E01.csv"), places);
    change("centre_frequency_mhz\n", "centre_frequency_mhz,positions_file\n");
    change("2000\n", "2000,E01.csv\n");
    assertThat(make().status()).isZero();
    assertThat(job.resolve("scans/E01.csv")).hasSameTextualContentAs(folder.resolve("E01.csv"));
    assertThat(Job.open(job).digests()).containsKey("scans/E01.csv");
  }

  @Test
  void refusesAPositionsFileThatIsMissingOrContradictsTheRow() throws Exception {
    change("centre_frequency_mhz\n", "centre_frequency_mhz,positions_file\n");
    change(
        "E01b.sgy,0,0,0,0.3,0.6,0.3,0.04,0.06,2000\n",
        "E01b.sgy,0,0,0,0.3,0.6,0.3,0.04,0.06,2000,E.csv\n");
    change("0.06,2000\n", "0.06,2000,\n");
    refuses(survey + ", line 3: positions_file = E.csv, but there is no file "
        + folder.resolve("E.csv") + ". Copy it there, or put its name right");
    Files.writeString(folder.resolve("E.csv"), "trace,x_m,y_m\n1,0,0.3\n2,0.5,0.3\n");
    refuses(
        folder.resolve("E.csv") + ", line 3: the last place lies 100 mm from where survey.csv has"
            + " it; expected at most 20 mm. Put one of the two right");
  }

  @Test
  void refusesAScanThatIsCutShort() throws Exception {
    Path scan = folder.resolve("E01a.sgy");
    byte[] whole = Files.readAllBytes(scan);
    Files.write(scan, Arrays.copyOf(whole, whole.length - 100));
    refuses(
        "E01a.sgy, trace 61 at byte 66000: 200 samples expected (binary header bytes 3269-3272),"
            + " the file ends after 175. The file is cut short: copy it again from its source");
  }

  @Test
  void refusesAMissingScan() throws Exception {
    Files.delete(folder.resolve("E01b.sgy"));
    refuses(survey + ", line 3: file = E01b.sgy, but there is no file " + folder.resolve("E01b.sgy")
        + ". Copy it there, or put its name right");
  }

  @Test
  void refusesAWrongSampleInterval() throws Exception {
    change(
        "E01,along,E01b.sgy,0,0,0,0.3,0.6,0.3,0.04", "E01,along,E01b.sgy,0,0,0,0.3,0.6,0.3,0.05");
    refuses("E01b.sgy: the sample interval field holds 0.00004 (binary header bytes 3273-3280; as "
        + "picoseconds 0.00000004 ns, as microseconds 0.04 ns), but passes.csv (pass E01, channel "
        + "along) says sample_interval_ns = 0.05. State the right one in passes.csv; nothing was "
        + "read");
  }

  @Test
  void refusesAnUnknownColumn() throws Exception {
    change("centre_frequency_mhz", "frequency_mhz");
    Said said = make();
    assertThat(said.status()).isEqualTo(2);
    assertThat(said.err())
        .contains(survey + ", line 1: column frequency_mhz is not known; expected pass,channel,");
    assertThat(job).doesNotExist();
  }

  @Test
  void refusesAFileThatIsNoScan() throws Exception {
    change("E01b.sgy", "E01b.txt");
    Files.writeString(folder.resolve("E01b.txt"), "no scan");
    refuses(
        survey + ", line 3: file = E01b.txt is in no format that is known here; expected one of "
            + "formats.segy. Export the scan as SEG-Y");
  }

  @Test
  void refusesAFolderThatIsThere() throws Exception {
    Files.createDirectory(job);
    Files.writeString(job.resolve("mine.txt"), "mine");
    Said said = make();
    assertThat(said.err())
        .isEqualTo(job + ": it is there already; expected a new name or an empty folder. Give the "
            + "job another name; nothing was changed\n");
    assertThat(said.status()).isEqualTo(2);
    assertThat(job.toFile().list()).containsExactly("mine.txt");
  }

  @Test
  void refusesAFolderBelowOneThatIsMissing() throws Exception {
    job = folder.resolve("no").resolve("job");
    refuses(job + ": there is no folder " + folder.resolve("no")
        + " to make it in. Make that folder first");
  }

  @Test
  void refusesAMissingSurveyTable() throws Exception {
    survey = folder.resolve("none.csv");
    refuses(survey + ": there is no such file; expected a table as CSV. Put the name right");
  }

  @Test
  void refusesCutsThatCannotBeRead() throws Exception {
    Path cuts = Files.writeString(folder.resolve("cores.csv"), CUTS.replace("core,", "bore,"));
    Said said = Said.of("new", job.toString(), "-s", survey.toString(), "-c", cuts.toString());
    refuses(said, cuts + ", line 2: kind = bore; expected core, drill or saw. Write one of them");
  }

  @Test
  void tellsEveryProblemAtOnceUpToTwenty() throws Exception {
    StringBuilder rows = new StringBuilder(Slab.HEAD);
    for (int i = 0; i < 25; i++) {
      rows.append("E")
          .append(i)
          .append(",a,none")
          .append(i)
          .append(".sgy,90,90,0,0,1,0,0.04,0.06,2000\n");
    }
    Files.writeString(survey, rows);
    List<String> lines = make().err().lines().toList();
    assertThat(lines).hasSize(23);
    assertThat(lines.get(22)).isEqualTo("and 5 more");
  }
}
