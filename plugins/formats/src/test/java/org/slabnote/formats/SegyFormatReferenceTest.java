package org.slabnote.formats;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.slabnote.formats.Rows.row;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.slabnote.api.Scan;

/** Whole scans of files made by others, against the times that came with them. */
class SegyFormatReferenceTest {
  private final SegyFormat format = new SegyFormat();

  /** Origin: README.md beside the files. Peaks lie on samples: within half a sample. */
  @Test
  void pulsesLieAtTheirTimes() throws IOException {
    Scan scan = format.read(resource("diffractor_kinematic.sgy"), row(0.05, 0, 0.6));
    assertThat(scan.traces()).isEqualTo(61);
    assertThat(scan.axis().count()).isEqualTo(160);
    List<String> lines = new String(
            resource("diffractor_kinematic_times.csv"), StandardCharsets.UTF_8)
        .lines()
        .skip(1)
        .toList();
    assertThat(lines).hasSizeGreaterThan(5);
    for (String line : lines) {
      String[] cells = line.split(",");
      int trace = Integer.parseInt(cells[0]);
      assertThat(scan.track().x().get(trace))
          .isCloseTo(Double.parseDouble(cells[1]), within(1e-12));
      assertThat(scan.sample(trace, 60)).isCloseTo(Float.parseFloat(cells[3]), within(1e-7f));
      double time = Double.parseDouble(cells[2]);
      if (time < scan.axis().end().value()) {
        assertThat(scan.axis().at(peak(scan.trace(trace))).value())
            .isCloseTo(time, within(0.025 + 1e-9));
      }
    }
  }

  /**
   * Output of a general full-wave solver; README.md beside the files gives the largest lobe of the direct
   * wave: 0.90 ns, -1.175 across and 1.24 ns, +0.441 along, to half of the last digit printed.
   */
  @Test
  void fullWaveScansReadWithTheirPublishedDirectWave() throws IOException {
    Scan across = format.read(resource("S1_across.sgy"), row(0.02, 0.1, 0.7));
    Scan along = format.read(resource("S1_along.sgy"), row(0.02, 0.1, 0.7));
    assertThat(across.traces()).isEqualTo(61);
    assertThat(across.axis().count()).isEqualTo(400);
    assertThat(across.sample(0, 45)).isCloseTo(-1.175f, within(0.0005f));
    assertThat(along.sample(0, 62)).isCloseTo(0.441f, within(0.0005f));
    assertThat(format.remarks(resource("S1_across.sgy"), row(0.02, 0.1, 0.7)))
        .containsExactly(
            "The sample interval in the file, read as picoseconds, agrees with the survey table's 0.02 ns");
  }

  private static int peak(float[] trace) {
    int best = 0;
    for (int j = 1; j < trace.length; j++) {
      if (trace[j] > trace[best]) {
        best = j;
      }
    }
    return best;
  }

  private static byte[] resource(String name) throws IOException {
    try (InputStream in = SegyFormatReferenceTest.class.getResourceAsStream(name)) {
      if (in == null) {
        throw new IllegalStateException("no test resource " + name);
      }
      return in.readAllBytes();
    }
  }
}
