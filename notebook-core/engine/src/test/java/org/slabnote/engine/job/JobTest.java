package org.slabnote.engine.job;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.fail;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.slabnote.api.Cut;
import org.slabnote.api.JobSheet;
import org.slabnote.api.Orientation;
import org.slabnote.api.Survey;
import org.slabnote.api.TargetClass;
import org.slabnote.api.quantity.Length;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Problem;

class JobTest {
  private static final String HEADER =
      "pass,channel,file,tx_deg,rx_deg,x0_m,y0_m,x1_m,y1_m,sample_interval_ns,antenna_offset_m,"
          + "centre_frequency_mhz";
  private static final String ROW = "E01,a,E01.sgy,90,90,0,0.1,1.2,0.1,0.05,0.06,2000";
  private static final String SHEET = "title = \"Roof slab\"\nquestion = \"\"\n";

  private interface Reading {
    Object read() throws BadInput;
  }

  @Test
  void readsARow() throws BadInput {
    Survey survey = SurveyTable.parse("survey.csv", HEADER + "\r\n" + ROW + "\r\n");
    assertThat(survey.rows()).hasSize(1);
    assertThat(survey.rows().get(0).antenna().orientation()).isEqualTo(Orientation.ACROSS);
    assertThat(survey.rows().get(0).end().x()).isEqualTo(new Length(1.2));
    assertThat(survey.rows().get(0).surface()).isEmpty();
  }

  @Test
  void aTimeZeroThatAChannelStatesOnceIsOneSource() throws BadInput {
    String header = HEADER + ",time_zero_ns,time_zero_u_ns\n";
    Survey same = SurveyTable.parse(
        "survey.csv", header + ROW + ",1.0,0.02\n" + ROW.replace("E01", "E02") + ",1.0,0.02\n");
    assertThat(same.rows().get(1).surface().orElseThrow().budget())
        .containsExactly(java.util.Map.entry("survey/a#time zero", 0.02));
    Survey various = SurveyTable.parse(
        "survey.csv", header + ROW + ",1.0,0.02\n" + ROW.replace("E01", "E02") + ",1.1,0.02\n");
    assertThat(various.rows().get(1).surface().orElseThrow().budget())
        .containsOnlyKeys("survey/a/E02#time zero");
  }

  @Test
  void everyFaultOfTheSurveyTableIsToldWithLineColumnAndValue() {
    assertThat(survey(HEADER.replace("file", "filename") + "\n" + ROW))
        .containsExactly(
            "survey.csv, line 1: column filename is not known; expected " + HEADER
                + ", and where wanted time_zero_ns,time_zero_u_ns,balance_db,balance_u_db,"
                + "balance_shift_ns,positions_file,remarks,ragged,header_positions. Put the name right or take the column out",
            "survey.csv, line 1: column file is missing; expected " + HEADER + ". Add it");
    assertThat(survey(HEADER + "\n" + ROW.replace("0.05", "0,05")))
        .containsExactly(
            "survey.csv, line 2: 13 values; expected 12, one for each column of the header. "
                + "Add or remove a comma");
    assertThat(survey(HEADER + "\n" + ROW.replace("0.05", "50 ps")))
        .containsExactly(
            "survey.csv, line 2: sample_interval_ns = 50 ps; expected a number such as 0.25. "
                + "Write it with a point, without its unit");
    assertThat(survey(HEADER + "\n" + ROW.replace("0.05", "50")))
        .containsExactly(
            "survey.csv, line 2: sample_interval_ns = 50; expected a number from 0.0001 to 10. "
                + "The unit stands in the column's name; put the value right");
    assertThat(survey(HEADER + "\n" + ROW + "\n\n" + ROW.replace("E01.sgy", "E02.sgy")))
        .containsExactly(
            "survey.csv, line 4: pass = E01 with channel a stands in line 2 already; expected each "
                + "pass and channel once. Give one of the two another name");
    assertThat(survey(HEADER + "\n" + ROW + "\n" + ROW.replace("E01,a", "E01,b")))
        .containsExactly(
            "survey.csv, line 3: pass = E01 with orientation across stands in line 2 already, from "
                + "and to the same place; expected each pass and orientation once in a place. "
                + "Give one of the two another pass name, or put its dipole angles right");
    assertThat(survey(HEADER + "\n" + ROW.replace("E01.sgy", "../E01.sgy")))
        .containsExactly(
            "survey.csv, line 2: file = ../E01.sgy; expected a path below the folder scans, with / "
                + "between folders. Copy the scan there and name it from there");
    assertThat(survey(HEADER.replace(',', ';') + "\n"))
        .containsExactly("survey.csv, line 1: the columns are separated by ; and must be by comma. "
            + "Export it with commas between columns and points in numbers");
    assertThat(survey(HEADER + "\n"))
        .containsExactly("survey.csv: the table has no rows; expected one for each scan. Add them");
    assertThat(survey(""))
        .containsExactly("survey.csv: it is empty; expected a header line " + HEADER);
    assertThat(survey(HEADER + ",time_zero_ns\n" + ROW + ",1.0\n"))
        .containsExactly(
            "survey.csv, line 2: time_zero_u_ns is empty; expected the standard uncertainty of "
                + "time_zero_ns. Fill it in, or leave both empty and let the notebook find time zero");
  }

  @Test
  void readsCutsWithTheClearancesOfTheJobSheet() throws BadInput {
    JobSheet sheet = JobSheetFile.parse(
        "job.toml", SHEET + "[required_clearance]\nmetal = \"50 mm\"\nnon_metal = \"2 in\"\n");
    List<Cut> cuts = CutsTable.parse(
        "cuts.csv",
        String.join(",", CutsTable.COLUMNS) + "\nC1,core,0.5,0.6,,,0.1,0.2,0.05\n"
            + "S1,saw,0,0,1,0,0.004,0.05,\n",
        sheet.required());
    assertThat(cuts.get(0).required()).containsEntry(TargetClass.METAL, new Length(0.05));
    assertThat(cuts.get(1).end().x()).isEqualTo(new Length(1));
  }

  @Test
  void everyFaultOfTheCutsIsTold() {
    String header = String.join(",", CutsTable.COLUMNS) + "\n";
    assertThat(messages(() ->
            CutsTable.parse("cuts.csv", header + "C1,bore,0,0,,,0.1,0.2,\n", new TreeMap<>())))
        .containsExactly(
            "cuts.csv, line 2: kind = bore; expected core, drill or saw. Write one of them");
    assertThat(messages(
            () -> CutsTable.parse("cuts.csv", header + "C1,core,0,0,,,0.1,,\n", new TreeMap<>())))
        .containsExactly(
            "cuts.csv, line 2: depth_m is empty; expected a number from 0.001 to 20. Fill it in");
  }

  @Test
  void readsTheJobSheet() throws BadInput {
    JobSheet sheet = JobSheetFile.parse(
        "job.toml",
        SHEET + "[element]\nthickness = \"200 mm\"\nkind = \"suspended slab\"\n"
            + "[dates]\nscanned = 2031-05-06\n");
    assertThat(sheet.thickness()).contains(new Length(0.2));
    assertThat(sheet.facts())
        .containsEntry("element.kind", "suspended slab")
        .containsEntry("dates.scanned", "2031-05-06");
    assertThat(
            JobSheetFile.parse("job.toml", JobSheetFile.blank("A \"new\" job")).title())
        .isEqualTo("A \"new\" job");
  }

  @Test
  void everyFaultOfTheJobSheetIsTold() {
    assertThat(sheet(SHEET + "[element]\nthickness = \"20\"\n"))
        .containsExactly(
            "job.toml, line 4: thickness = 20; expected a length above 0 m and up to 20 m. "
                + "Write it as \"50 mm\"");
    assertThat(sheet(SHEET + "\n[elements]\n"))
        .containsExactly(
            "job.toml, line 4: elements is not known; expected title, question and the sections "
                + "element, site, drawings, instrument, people, dates, required_clearance, limits, "
                + "notes. Put the name right, or move it under [notes]");
    assertThat(sheet(SHEET + "[required_clearance]\nsteel = \"50 mm\"\n"))
        .containsExactly(
            "job.toml, line 4: steel is no class of target; expected metal, non_metal, plane. "
                + "Put the name right");
    assertThat(sheet("question = \"\"\n"))
        .containsExactly(
            "job.toml: title is empty; expected the title of the job. Write title = \"...\"");
    assertThat(sheet("title = Roof\n"))
        .hasSize(1)
        .allMatch(m -> m.startsWith("job.toml, line 1: this is not TOML: "));
  }

  @Test
  void opensAFolderAndDigestsTheScans(@TempDir Path folder) throws Exception {
    write(folder);
    Job job = Job.open(folder);
    assertThat(job.scans().get("E01.sgy").sha256())
        .isEqualTo(
            "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"); // FIPS 180-2,
    // "abc"
    assertThat(job.digests()).containsOnlyKeys("job.toml", "survey.csv");
  }

  @Test
  void aPositionsFilePlacesEachTrace(@TempDir Path folder) throws Exception {
    write(folder);
    Files.writeString(
        folder.resolve("survey.csv"), HEADER + ",positions_file\n" + ROW + ",E01.csv\n");
    Path positions = folder.resolve("scans/E01.csv");
    Files.writeString(positions, "trace,x_m,y_m\n1,0,0.1\n2,0.5,0.13\n3,1.2,0.1\n");
    Job job = Job.open(folder);
    assertThat(job.survey().rows().get(0).track(3).at(1))
        .isEqualTo(org.slabnote.api.Point.of(0.5, 0.13));
    assertThat(job.digests()).containsKey("scans/E01.csv");
    assertThat(org.assertj.core.api.Assertions.catchThrowable(
            () -> job.survey().rows().get(0).track(4)))
        .hasMessage(
            "E01.sgy: 4 traces, but the positions file of pass E01, channel a has 3 places; "
                + "expected one for each trace. Take the positions of this file");
    Files.writeString(positions, "trace,x_m,y_m\n1,0.05,0.1\n3,1.2,0.1\n");
    assertThat(messages(() -> Job.open(folder)))
        .containsExactly(
            "scans/E01.csv, line 3: trace = 3; expected 2: a line for each trace, from "
                + "1, in order. Sort the lines, and leave none out");
    Files.writeString(positions, "trace,x_m,y_m\n1,0.05,0.1\n2,1.2,0.1\n");
    assertThat(messages(() -> Job.open(folder)))
        .containsExactly(
            "scans/E01.csv, line 2: the first place lies 50 mm from where survey.csv has "
                + "it; expected at most 20 mm. Put one of the two right");
  }

  @Test
  void tellsAMissingScanAndAMissingFile(@TempDir Path folder) throws Exception {
    write(folder);
    Files.delete(folder.resolve("scans/E01.sgy"));
    assertThat(messages(() -> Job.open(folder)))
        .containsExactly("survey.csv, line 2: file = E01.sgy, but there is no file scans/E01.sgy. "
            + "Copy the scan there, or put its name right");
    Files.delete(folder.resolve("job.toml"));
    assertThat(messages(() -> Job.open(folder)).get(0))
        .isEqualTo(
            "job.toml: the job folder " + folder.getFileName() + " has no such file; expected it "
                + "beside the others. Make a job with: slabnote new JOB --survey FILE");
  }

  private static void write(Path folder) throws Exception {
    Files.createDirectories(folder.resolve("scans"));
    Files.writeString(folder.resolve("scans/E01.sgy"), "abc");
    Files.writeString(folder.resolve("job.toml"), SHEET);
    Files.writeString(folder.resolve("survey.csv"), HEADER + "\n" + ROW + "\n");
    Files.writeString(folder.resolve("interpretation.md"), "Words\n");
  }

  private static List<String> survey(String text) {
    return messages(() -> SurveyTable.parse("survey.csv", text));
  }

  private static List<String> sheet(String text) {
    return messages(() -> JobSheetFile.parse("job.toml", text));
  }

  private static List<String> messages(Reading reading) {
    try {
      reading.read();
      return fail("read, though it should not be");
    } catch (BadInput bad) {
      return bad.problems().stream()
          .map(Problem::toString)
          .collect(java.util.stream.Collectors.toList());
    }
  }
}
