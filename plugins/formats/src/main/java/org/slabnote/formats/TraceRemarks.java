package org.slabnote.formats;

import java.util.List;
import org.slabnote.formats.segy.SegyField;
import org.slabnote.formats.segy.SegyFile;
import org.slabnote.formats.segy.SegyHeader;

/** What trace headers say that a scan has no place for. */
final class TraceRemarks {
  private static final int DEAD = 2;

  private TraceRemarks() {}

  static void of(SegyFile file, List<String> remarks) {
    int dead = 0;
    int firstDead = 0;
    int delayed = 0;
    long delay = 0;
    for (int i = 0; i < file.traceCount(); i++) {
      SegyHeader header = file.trace(i).header();
      if (header.get(SegyField.TRACE_IDENTIFICATION) == DEAD) {
        firstDead = dead == 0 ? i + 1 : firstDead;
        dead++;
      }
      long own = header.get(SegyField.DELAY);
      if (own != 0) {
        delay = delayed == 0 ? own : delay;
        delayed++;
      }
    }
    long ensemble = file.header().get(SegyField.TRACES_PER_ENSEMBLE);
    if (ensemble > file.traceCount()) {
      remarks.add(
          "The binary header states " + ensemble + " traces in an ensemble (bytes 3213-3214), the"
              + " file has " + file.traceCount() + ": perhaps traces are missing");
    }
    if (dead > 0) {
      remarks.add(dead + " of " + file.traceCount() + " traces are marked dead, the first is trace "
          + firstDead + "; their samples were read as they stand");
    }
    if (delayed > 0) {
      remarks.add(
          delayed + " of " + file.traceCount() + " traces state a recording delay, the first "
              + delay
              + " (bytes 109-110, unit not stated for radar); it was not applied: sample 1 is at"
              + " 0 ns");
    }
  }
}
