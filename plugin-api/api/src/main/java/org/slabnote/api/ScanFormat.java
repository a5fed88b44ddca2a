package org.slabnote.api;

import java.util.List;

/**
 * A reader of scan files. Not visible to cells.
 *
 * @since 0.1
 */
public interface ScanFormat {
  /** Returns the id, with the plugin's prefix: {@code formats.segy}. */
  String id();

  /** Returns the revision, raised by whatever changes what is read. */
  int revision();

  /**
   * Tells whether a file looks like this format.
   *
   * @param file file name as in the survey table
   * @param head first bytes of the file, 4096 at most
   */
  boolean recognises(String file, byte[] head);

  /**
   * Reads a scan.
   *
   * @param bytes the whole file
   * @param row the survey table's row, which states geometry and sample interval
   * @return the scan, with an empty history
   * @throws ScanFileException if the file is cut short, contradicts itself or the row
   */
  Scan read(byte[] bytes, SurveyRow row);

  /**
   * Tells what the file left open and how it was read, for the record: which unit of an interval
   * field agreed with the survey, which of two counts was taken, what was not used.
   *
   * @param bytes the whole file
   * @param row the survey table's row
   * @return one sentence each, the same for the same file and row; empty where nothing was open
   * @throws ScanFileException as {@link #read(byte[], SurveyRow)} does
   */
  default List<String> remarks(byte[] bytes, SurveyRow row) {
    return List.of();
  }
}
