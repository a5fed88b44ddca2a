package org.slabnote.targets;

import static org.slabnote.api.quantity.Quantities.MHz;
import static org.slabnote.api.quantity.Quantities.deg;
import static org.slabnote.api.quantity.Quantities.mm;
import static org.slabnote.api.quantity.Quantities.ns;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.ByteBuffer;
import java.util.List;
import java.util.Optional;
import org.slabnote.api.Antenna;
import org.slabnote.api.Orientation;
import org.slabnote.api.Point;
import org.slabnote.api.Samples;
import org.slabnote.api.Scan;
import org.slabnote.api.TimeAxis;
import org.slabnote.api.Track;
import org.slabnote.api.quantity.Measured;

/** The independent solver's scans, see the README beside them. Just enough of SEG-Y for these files. */
final class FullWave {
  private static final int TRACES = 61;
  private static final int SAMPLES = 400;

  private FullWave() {}

  /**
   * The scan with its mean trace taken out. Surface time: 0.70 ns pulse peak plus twice 5 mm of air.
   */
  static Scan scan(Orientation orientation) {
    String label = orientation == Orientation.ACROSS ? "across" : "along";
    float[][] traces = new float[TRACES][SAMPLES];
    try (InputStream in = FullWave.class.getResourceAsStream("S1_" + label + ".sgy")) {
      ByteBuffer bytes = ByteBuffer.wrap(java.util.Objects.requireNonNull(in).readAllBytes());
      for (int i = 0; i < TRACES; i++) {
        for (int j = 0; j < SAMPLES; j++) {
          traces[i][j] = bytes.getFloat(3600 + i * (240 + 4 * SAMPLES) + 240 + 4 * j);
        }
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    Simulator.removeMean(traces);
    double angle = orientation == Orientation.ACROSS ? 90 : 0;
    return new Scan(
            "S1",
            label,
            new Antenna(deg(angle), deg(angle), mm(60), MHz(2000)),
            new TimeAxis(ns(0), ns(0.02), SAMPLES),
            Track.between(Point.of(0.1, 0), Point.of(0.7, 0), TRACES),
            Samples.ofTraces(traces),
            Optional.empty(),
            Optional.empty(),
            List.of())
        .withSurface(
            Measured.of(ns(0.70 + 2 * 0.005 / 0.299792458), "full wave#time zero", ns(0.02)));
  }
}
