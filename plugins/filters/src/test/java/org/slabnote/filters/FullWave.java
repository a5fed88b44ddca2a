package org.slabnote.filters;

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
import org.slabnote.api.Point;
import org.slabnote.api.Samples;
import org.slabnote.api.Scan;
import org.slabnote.api.TimeAxis;
import org.slabnote.api.Track;

/** Reads the full-wave scans beside the tests: 61 traces of 400 IEEE floats (README.md there). */
final class FullWave {
  private static final int TRACES = 61;
  private static final int COUNT = 400;

  private FullWave() {}

  static Scan across() {
    return read("S1_across.sgy", "across", 90);
  }

  static Scan along() {
    return read("S1_along.sgy", "along", 0);
  }

  private static Scan read(String file, String channel, double angle) {
    try (InputStream in = FullWave.class.getResourceAsStream(file)) {
      ByteBuffer bytes = ByteBuffer.wrap(in.readAllBytes());
      float[][] traces = new float[TRACES][COUNT];
      for (int i = 0; i < TRACES; i++) {
        bytes.position(3600 + i * (240 + 4 * COUNT) + 240).asFloatBuffer().get(traces[i]);
      }
      return new Scan(
          "S1",
          channel,
          new Antenna(deg(angle), deg(angle), mm(60), MHz(2000)),
          new TimeAxis(ns(0), ns(0.02), COUNT),
          Track.between(Point.of(0.1, 0), Point.of(0.7, 0), TRACES),
          Samples.ofTraces(traces),
          Optional.empty(),
          Optional.empty(),
          List.of());
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
