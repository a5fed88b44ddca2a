package org.slabnote.demo;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;

/**
 * Something that is in the slab.
 *
 * @param name name
 * @param kind bar, tendon, conduit, pipe or plane
 * @param line where it runs; for a plane without meaning
 * @param depth depth to its top, metres
 * @param metal whether it is metal
 * @param expected whether it must be found; what need not be is no mistake where it is
 */
record Truth(
    String name, String kind, Segment line, double depth, boolean metal, boolean expected) {
  /** A plane over the whole slab, such as its base. */
  static Truth plane(String name, double depth) {
    return new Truth(name, "plane", new Segment(0, 0, 0, 0), depth, false, false);
  }

  boolean isPlane() {
    return kind.equals("plane");
  }

  /** Reads a table with columns {@code name,kind,x_m,y_m,x2_m,y2_m,depth_top_m,diameter_m,material}. */
  static List<Truth> read(String csv) {
    List<Truth> all = new ArrayList<>();
    for (Map<String, String> row : Csv.rows(csv)) {
      all.add(new Truth(
          row.get("name"),
          row.get("kind"),
          Segment.of(row),
          Double.parseDouble(row.get("depth_top_m")),
          row.get("material").equals("metal"),
          true));
    }
    return all;
  }
}
