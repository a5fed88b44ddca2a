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

  /**
   * Name in {@link #extra} of the places of a positions file, trace by trace: {@code x y;x y}, in
   * metres. Set by the engine; without it the track is straight.
   */
  public static final String POSITIONS = "positions";

  /** Copies the map. */
  public SurveyRow {
    extra = Collections.unmodifiableSortedMap(new TreeMap<>(extra));
  }

  /**
   * Returns where each of {@code traces} traces was taken: where a positions file says so, else in
   * even steps from start to end.
   *
   * @throws ScanFileException if there are positions of another number of traces
   */
  public Track track(int traces) {
    String positions = extra.get(POSITIONS);
    if (positions == null) {
      return Track.between(start, end, traces);
    }
    String[] places = positions.split(";");
    if (places.length != traces) {
      throw new ScanFileException(
          file,
          "",
          traces + " traces, but the positions file of pass "
              + pass + ", channel " + channel + " has " + places.length
              + " places; expected one for each trace. Take the positions of this file");
    }
    double[] x = new double[traces];
    double[] y = new double[traces];
    for (int i = 0; i < traces; i++) {
      String[] place = places[i].split(" ");
      x[i] = Double.parseDouble(place[0]);
      y[i] = Double.parseDouble(place[1]);
    }
    return new Track(Doubles.of(x), Doubles.of(y));
  }
}
