package org.slabnote.formats;

import org.slabnote.api.ScanFileException;
import org.slabnote.api.SurveyRow;
import org.slabnote.formats.segy.SegyFile;

/** A file and its row of the survey table contradict each other: both are named. */
final class RowFault {
  private RowFault() {}

  static ScanFileException of(SegyFile file, String place, String problem) {
    return new ScanFileException(file.name(), place, problem);
  }

  /** The row as messages name it. */
  static String name(SurveyRow row) {
    return "survey.csv (pass " + row.pass() + ", channel " + row.channel() + ")";
  }
}
