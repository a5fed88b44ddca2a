package org.slabnote.polarization;

import java.util.ArrayList;
import java.util.List;
import org.slabnote.api.Amplitudes;
import org.slabnote.api.Scan;
import org.slabnote.api.Step;
import org.slabnote.api.Steps;
import org.slabnote.api.Treatment;

/** Passes that were scanned with both antennas, and whether their amplitudes may be compared. */
final class ScanPairs {
  private ScanPairs() {}

  /** The two scans of one pass. */
  record Pair(Scan across, Scan along) {}

  /**
   * Pairs the scans by the name of their pass, in the order of {@code along}.
   *
   * @throws IllegalArgumentException if amplitudes were altered, or differ in treatment; the
   *     message names the step
   */
  static List<Pair> of(String operation, Steps<Scan> across, Steps<Scan> along) {
    List<Scan> first = across.list().stream().map(Step::get).toList();
    List<Pair> pairs = new ArrayList<>();
    for (Step<Scan> step : along.list()) {
      Scan second = step.get();
      for (Scan scan : first) {
        if (scan.pass().equals(second.pass())) {
          check(operation, scan, second);
          pairs.add(new Pair(scan, second));
          break;
        }
      }
    }
    return pairs;
  }

  private static void check(String operation, Scan across, Scan along) {
    for (Scan scan : List.of(across, along)) {
      for (Treatment t : scan.history()) {
        if (t.amplitudes() == Amplitudes.ALTERED) {
          throw new IllegalArgumentException(
              operation + ": scan " + scan.pass() + ", channel " + scan.channel() + ": " + t
                  + " altered its amplitudes; expected linear ones. Take the scans from before that step");
        }
      }
    }
    List<Treatment> a = counting(across);
    List<Treatment> b = counting(along);
    if (!a.equals(b)) {
      throw new IllegalArgumentException(
          operation + ": pass " + across.pass() + ": across was treated by " + words(a)
              + ", along by " + words(b)
              + "; expected the same steps on both, or their amplitudes do not compare");
    }
    if (Math.abs(across.interval().value() - along.interval().value())
        > 1e-9 * across.interval().value()) {
      throw new IllegalArgumentException(operation + ": pass " + across.pass()
          + ": sample interval " + across.interval() + " across, " + along.interval()
          + " along; expected equal ones. Resample one of them");
    }
  }

  private static List<Treatment> counting(Scan scan) {
    return scan.history().stream()
        .filter(t -> t.amplitudes() != Amplitudes.UNCHANGED)
        .toList();
  }

  private static String words(List<Treatment> list) {
    return list.isEmpty()
        ? "nothing"
        : String.join(", then ", list.stream().map(Treatment::toString).toList());
  }
}
