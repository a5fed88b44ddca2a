package org.slabnote.formats;

import static org.slabnote.api.quantity.Quantities.MHz;
import static org.slabnote.api.quantity.Quantities.deg;
import static org.slabnote.api.quantity.Quantities.mm;
import static org.slabnote.api.quantity.Quantities.ns;

import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import org.slabnote.api.Antenna;
import org.slabnote.api.Point;
import org.slabnote.api.SurveyRow;

/** Rows of a survey table: pass E07, channel 1, antennas across, along x. */
public final class Rows {
  private Rows() {}

  public static SurveyRow row(double intervalNs, double x0, double x1, String... extra) {
    SortedMap<String, String> more = new TreeMap<>();
    for (int i = 0; i < extra.length; i += 2) {
      more.put(extra[i], extra[i + 1]);
    }
    return new SurveyRow(
        "E07",
        "1",
        "E07.sgy",
        new Antenna(deg(90), deg(90), mm(60), MHz(2000)),
        Point.of(x0, 0),
        Point.of(x1, 0),
        ns(intervalNs),
        Optional.empty(),
        Optional.empty(),
        more);
  }
}
