package org.slabnote.fake;

import java.util.concurrent.atomic.AtomicInteger;
import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Orientation;
import org.slabnote.api.Purpose;
import org.slabnote.api.Role;
import org.slabnote.api.Scan;
import org.slabnote.api.Step;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Length;
import org.slabnote.api.quantity.Measured;

/** The greatest sample of an across scan, as a length. */
@Op(id = "fake.peak", revision = 1, purpose = Purpose.MODEL)
public record Peak(@Role(Orientation.ACROSS) Step<Scan> scan)
    implements Operation<Measured<Length>> {
  /** How often it was computed. */
  public static final AtomicInteger RUNS = new AtomicInteger();

  @Override
  public Measured<Length> apply(Work work) {
    RUNS.incrementAndGet();
    float[] peaks = new float[scan.get().traces()];
    work.forEach(peaks.length, i -> {
      for (float x : scan.get().trace(i)) {
        peaks[i] = Math.max(peaks[i], x);
      }
    });
    double most = 0;
    for (float peak : peaks) {
      most = Math.max(most, peak);
    }
    return Measured.of(new Length(most), work.source("reading"), new Length(0.5));
  }
}
