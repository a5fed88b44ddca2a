package org.slabnote.speed;

import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.TreeMap;
import org.slabnote.api.Antenna;
import org.slabnote.api.Point;
import org.slabnote.api.Scan;
import org.slabnote.api.SurveyRow;
import org.slabnote.api.quantity.Angle;
import org.slabnote.api.quantity.Frequency;
import org.slabnote.api.quantity.Length;
import org.slabnote.api.quantity.TimeSpan;
import org.slabnote.formats.SegyFormat;
import org.slabnote.formats.segy.SegySample;
import org.slabnote.formats.segy.SegyText;
import org.slabnote.formats.segy.SegyWriter;

/** A scan of 2000 traces of 512 samples, made of seeded noise: only its size matters here. */
final class LargeScan {
  static final int TRACES = 2000;
  static final int SAMPLES = 512;
  private static final double INTERVAL_NS = 0.025;
  private static final double STEP_M = 0.005;

  private LargeScan() {}

  static SurveyRow row() {
    return new SurveyRow(
        "E01",
        "a",
        "E01.sgy",
        new Antenna(new Angle(90), new Angle(90), new Length(0.06), new Frequency(2000)),
        new Point(new Length(0), new Length(0)),
        new Point(new Length(STEP_M * (TRACES - 1)), new Length(0)),
        new TimeSpan(INTERVAL_NS),
        Optional.empty(),
        Optional.empty(),
        new TreeMap<>());
  }

  static byte[] file() {
    Random random = new Random(1);
    SegyWriter writer = new SegyWriter(
        List.of("invented"),
        SegyText.Encoding.EBCDIC,
        SegySample.FLOAT32,
        INTERVAL_NS / 1000,
        SAMPLES);
    double[] trace = new double[SAMPLES];
    for (int i = 0; i < TRACES; i++) {
      for (int j = 0; j < SAMPLES; j++) {
        trace[j] = random.nextGaussian();
      }
      double x = STEP_M * i;
      writer.add(trace, new SegyWriter.Place(x - 0.03, 0, x + 0.03, 0));
    }
    return writer.bytes();
  }

  static Scan scan() {
    return new SegyFormat().read(file(), row());
  }
}
