package org.slabnote.testkit;

import org.slabnote.api.Doubles;
import org.slabnote.api.Samples;
import org.slabnote.api.Scan;
import org.slabnote.api.TimeAxis;
import org.slabnote.api.Track;
import org.slabnote.api.codec.Canonical;

/** Scans of one trace and of one sample a trace. */
final class SmallScanMusts {
  private SmallScanMusts() {}

  static void oneTrace(Subject subject) {
    resultOrRefusal(subject, subject.onScans(SmallScanMusts::firstTrace), "one trace");
  }

  static void oneSample(Subject subject) {
    resultOrRefusal(subject, subject.onScans(SmallScanMusts::firstSample), "one sample a trace");
  }

  private static void resultOrRefusal(Subject whole, Subject small, String what) {
    try {
      Canonical.encode(small.run(TestWork.serial()));
    } catch (RuntimeException e) {
      String said = String.valueOf(e.getMessage());
      boolean kind = e.getClass() == IllegalArgumentException.class
          || e.getClass() == IllegalStateException.class;
      boolean names = said.contains(whole.id()) || said.contains("scan ");
      if (!kind || !names || said.split("\\s+").length < 6) {
        throw new AssertionError(
            whole.id() + ": on scans of " + what + " it threw " + e + "; expected a result, or an"
                + " IllegalArgumentException that names the operation or the scan and says why",
            e);
      }
    }
  }

  static Scan firstTrace(Scan scan) {
    Track track = new Track(
        Doubles.of(scan.track().x().get(0)), Doubles.of(scan.track().y().get(0)));
    return new Scan(
        scan.pass(),
        scan.channel(),
        scan.antenna(),
        scan.axis(),
        track,
        Samples.of(scan.trace(0)),
        scan.surface(),
        scan.balance(),
        scan.history());
  }

  static Scan firstSample(Scan scan) {
    float[] first = new float[scan.traces()];
    for (int i = 0; i < first.length; i++) {
      first[i] = scan.sample(i, 0);
    }
    TimeAxis axis = new TimeAxis(scan.axis().start(), scan.interval(), 1);
    return new Scan(
        scan.pass(),
        scan.channel(),
        scan.antenna(),
        axis,
        scan.track(),
        Samples.of(first),
        scan.surface(),
        scan.balance(),
        scan.history());
  }
}
