package org.slabnote.demo;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;

/**
 * A finding, as the table {@code targets} tells it.
 *
 * @param name name
 * @param kind likeliest class
 * @param line where it runs, or the point where it was seen
 * @param depth depth from the scanned face to its top, metres
 * @param u95 expanded uncertainty of the depth, metres
 * @param pairRatio pair ratio, decibels
 * @param status probable, possible, not resolved
 */
record Found(
    String name,
    String kind,
    Segment line,
    double depth,
    double u95,
    OptionalDouble pairRatio,
    String status) {

  boolean probable() {
    return status.equals("probable");
  }

  /** Reads the table as the command line prints it. */
  static List<Found> read(String csv) {
    List<Found> all = new ArrayList<>();
    for (Map<String, String> row : Csv.rows(csv)) {
      String reference = row.get("reference");
      if (!reference.equals("top")) {
        throw new AssertionError(row.get("name") + ": reference " + reference
            + "; this score compares depths to the top");
      }
      String ratio = row.get("pair_ratio_db");
      all.add(new Found(
          row.get("name"),
          row.get("kind"),
          Segment.of(row),
          Double.parseDouble(row.get("depth_m")),
          Double.parseDouble(row.get("depth_u95_m")),
          ratio.isEmpty() ? OptionalDouble.empty() : OptionalDouble.of(Double.parseDouble(ratio)),
          row.get("status")));
    }
    return all;
  }
}
