package org.slabnote.api;

import java.util.Collections;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import org.slabnote.api.quantity.Measured;
import org.slabnote.api.quantity.TimeSpan;

/**
 * One row of the survey table: one scan file (or one channel of it) and how it was taken.
 *
 * @param pass name of the pass
 * @param channel label of the channel
 * @param file path of the scan file as written in the table, relative to the job's scans
 * @param antenna dipole angles, separation and centre frequency
 * @param start antenna midpoint at the first trace
 * @param end antenna midpoint at the last trace
 * @param interval sample interval
 * @param surface time zero, where the survey states it
 * @param balance balance of the antennas, where the survey states it
 * @param extra further columns of the row by name, as text
 * @since 0.1
 */
public record SurveyRow(
    String pass,
    String channel,
    String file,
    Antenna antenna,
    Point start,
    Point end,
    TimeSpan interval,
    Optional<Measured<TimeSpan>> surface,
    Optional<Balance> balance,
    SortedMap<String, String> extra) {

  /** Copies the map. */
  public SurveyRow {
    extra = Collections.unmodifiableSortedMap(new TreeMap<>(extra));
  }

  /** Returns the straight track of {@code traces} traces from start to end. */
  public Track track(int traces) {
    return Track.between(start, end, traces);
  }
}
