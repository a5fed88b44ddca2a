package org.slabnote.formats.segy;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.fail;

import java.util.List;
import java.util.Map;
import org.slabnote.api.Scan;
import org.slabnote.api.ScanFileException;
import org.slabnote.api.SurveyRow;
import org.slabnote.formats.Rows;
import org.slabnote.formats.SegyFormat;

/** Opens damaged files and holds the reader to its promise: the whole file, or one kind of refusal. */
final class Damage {
  private Damage() {}

  static List<String> goodFiles() {
    List<String> names = Csv.rows("files.csv").stream()
        .map((Map<String, String> row) -> row.get("file"))
        .toList();
    assertThat(names).hasSizeGreaterThan(5);
    return names;
  }

  /**
   * Opens and reads everything.
   *
   * @return whether the file was read; refused otherwise
   */
  static boolean reads(String what, byte[] bytes) {
    try {
      SegyFile file = SegyFile.of(what, bytes);
      long used = 3600;
      for (int i = 0; i < file.traceCount(); i++) {
        SegyTrace trace = file.trace(i);
        used += 240 + (long) trace.samples().length * file.sample().bytes();
        assertThat(trace.sampleCount()).isPositive();
        trace.midpointX();
        trace.extensions();
      }
      assertThat(used).as("no more was read than the file holds").isLessThanOrEqualTo(bytes.length);
      file.text();
      file.extendedTexts();
      file.stanzas();
      file.trailer();
      scans(what, bytes);
      return true;
    } catch (ScanFileException e) {
      assertThat(e).hasMessageStartingWith(what).hasMessageMatching("(?s).*: .*\\. .*");
      assertThat(e.getMessage().length()).isLessThan(700);
      return false;
    } catch (RuntimeException | OutOfMemoryError e) {
      return fail(what + ": " + e, e);
    }
  }

  /** What the engine calls: a scan or the same kind of refusal, told to pad and not. */
  private static void scans(String what, byte[] bytes) {
    for (SurveyRow row :
        List.of(Rows.row(0.05, 0.28, 0.32), Rows.row(0.05, 0, 1, "ragged", "pad"))) {
      try {
        Scan scan = new SegyFormat().read(bytes, row);
        assertThat(scan.traces()).as(what).isPositive();
      } catch (ScanFileException e) {
        assertThat(e).hasMessageStartingWith(row.file());
      }
    }
  }
}
