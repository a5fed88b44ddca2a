package org.slabnote.formats;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.slabnote.api.quantity.Quantities.ns;

import java.util.Collections;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.slabnote.api.Point;
import org.slabnote.api.Samples;
import org.slabnote.api.Scan;
import org.slabnote.api.SurveyRow;
import org.slabnote.api.TimeAxis;
import org.slabnote.api.Track;
import org.slabnote.formats.segy.SegyFile;
import org.slabnote.formats.segy.SegyText;

class SegyScanTest {
  private static final SurveyRow ROW = Rows.row(0.02, 0.1, 0.7);

  @Test
  void antennasStandHalfTheirSeparationBehindAndAheadOfTheMidpoint() {
    // Travel from (0, 0) to (0.3, 0.4): direction (0.6, 0.8); half of 60 mm: 18 mm and 24 mm.
    SegyFile file =
        open(scan("E07", 0, Track.between(Point.of(0, 0), Point.of(0.3, 0.4), 2)), List.of());
    assertThat(file.trace(1).sourceX()).isEqualTo(0.282, within(1e-12));
    assertThat(file.trace(1).sourceY()).isEqualTo(0.376, within(1e-12));
    assertThat(file.trace(1).groupX()).isEqualTo(0.318, within(1e-12));
    assertThat(file.trace(1).groupY()).isEqualTo(0.424, within(1e-12));
    assertThat(file.trace(1).midpointX()).isEqualTo(0.3, within(1e-12));
  }

  @Test
  void textSaysPassUnitsAndWhatTheCallerAdds() {
    SegyFile file = open(scan("Gr\u00fcn 4", 0, ROW.track(2)), List.of("Invented data"));
    assertThat(file.text().encoding()).isEqualTo(SegyText.Encoding.EBCDIC);
    assertThat(file.text().lines())
        .hasSize(40)
        .contains(
            "C 2 Pass Gr?n 4, channel 1",
            "C 3 Sample interval 0.02 ns (bytes 3273-3280, in microseconds)",
            "C 4 Antenna separation 60 mm, centre frequency 2000 MHz",
            "C 5 Dipoles 90 and 90 degrees from the direction of travel",
            "C 9 Invented data",
            "C39 SEG-Y_REV2.0",
            "C40 END TEXTUAL HEADER");
  }

  @Test
  void refusesWhatSegyCannotHold() {
    assertThatThrownBy(() -> SegyFormat.write(scan("E07", 0.5, ROW.track(2)), List.of()))
        .hasMessage(
            "scan E07: its first sample is at 0.5 ns; expected 0 ns, as SEG-Y has no field for it. Resample it"
                + " from 0 ns");
    Scan scan = scan("E07", 0, ROW.track(2));
    assertThatThrownBy(() -> SegyFormat.write(scan, Collections.nCopies(31, "x")))
        .hasMessage("SEG-Y textual header: 31 lines; expected at most 30. Shorten the text");
    String line = "x".repeat(77);
    assertThatThrownBy(() -> SegyFormat.write(scan, List.of(line)))
        .hasMessage("SEG-Y textual header: '" + line
            + "' has 77 characters; expected at most 76. Shorten the line");
  }

  @Test
  void oneTraceOfOneSampleComesBack() {
    Scan one = new Scan(
        "E07",
        "1",
        ROW.antenna(),
        new TimeAxis(ns(0), ns(0.02), 1),
        ROW.track(1),
        Samples.of(2.5f),
        Optional.empty(),
        Optional.empty(),
        List.of());
    assertThat(new SegyFormat().read(SegyFormat.write(one, List.of()), ROW)).isEqualTo(one);
  }

  private static SegyFile open(Scan scan, List<String> text) {
    return SegyFile.of("out.sgy", SegyFormat.write(scan, text));
  }

  private static Scan scan(String pass, double start, Track track) {
    return new Scan(
        pass,
        "1",
        ROW.antenna(),
        new TimeAxis(ns(start), ns(0.02), 2),
        track,
        Samples.of(1, 2, 3, 4),
        Optional.empty(),
        Optional.empty(),
        List.of());
  }
}
