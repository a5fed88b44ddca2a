package org.slabnote.forward;

import java.nio.charset.StandardCharsets;
import java.util.zip.CRC32;
import org.slabnote.api.SurveyRow;
import org.slabnote.methods.fit.SeededNormal;

/** Seeded chance: drift of time zero from pass to pass, noise from sample to sample. */
final class Noise {
  private final double zero;
  private final double level;
  private final long base;

  Noise(SlabModel model, SurveyRow row, long seed) {
    // both antennas of a pass share its drift
    SeededNormal drift = new SeededNormal(seed ^ hash(row.pass()));
    double lag = row.antenna().orientation() == org.slabnote.api.Orientation.ACROSS
        ? model.instrument().lag().value()
        : 0;
    zero =
        model.instrument().zero().value() + lag + model.instrument().drift().value() * drift.next();
    level = model.instrument().noise().amplitude();
    base =
        seed * 31 + hash(row.pass() + "/" + row.channel() + "/" + row.antenna().orientation());
  }

  /** Time of the pulse's centre in this pass, ns. */
  double zero() {
    return zero;
  }

  /** Returns the trace with its noise; {@code reference} is the amplitude that levels are told against. */
  float[] added(double[] trace, int index, double reference) {
    SeededNormal normal = new SeededNormal(mixed(base + index));
    float[] out = new float[trace.length];
    for (int i = 0; i < out.length; i++) {
      out[i] = (float) (trace[i] + level * reference * normal.next());
    }
    return out;
  }

  /** Spreads neighbouring numbers far apart: the finalizer of MurmurHash3. */
  private static long mixed(long value) {
    long h = value;
    h = (h ^ (h >>> 33)) * 0xff51afd7ed558ccdL;
    h = (h ^ (h >>> 33)) * 0xc4ceb9fe1a85ec53L;
    return h ^ (h >>> 33);
  }

  static long hash(String text) {
    CRC32 crc = new CRC32();
    crc.update(text.getBytes(StandardCharsets.UTF_8));
    return crc.getValue() * 0x2545F4914F6CDD1DL;
  }
}
