package org.slabnote.targets;

import static org.slabnote.api.quantity.Quantities.mm;

import java.util.SortedMap;
import java.util.TreeMap;
import org.slabnote.api.Events;
import org.slabnote.api.Orientation;
import org.slabnote.api.Point;
import org.slabnote.api.Scan;
import org.slabnote.api.Step;
import org.slabnote.api.Steps;
import org.slabnote.api.Targets;
import org.slabnote.api.Work;

/** Passes of 1.2 m over an invented slab in both directions, their events and targets. */
final class Survey12 {
  final Simulator slab;
  final SortedMap<String, Scan> scans = new TreeMap<>();
  final SortedMap<String, Events> across = new TreeMap<>();
  final SortedMap<String, Events> planes = new TreeMap<>();

  /** Velocity error as a share; passes in each direction, pitch in m. */
  Survey12(Simulator slab, double error, int each, double pitch) {
    this.slab = slab;
    for (int k = 0; k < 2 * each; k++) {
      boolean east = k < each;
      double at = 0.05 + pitch * (k % each);
      String name = (east ? "E" : "N") + (k % each < 10 ? "0" : "") + k % each;
      Point from = east ? Point.of(0, at) : Point.of(at, 0);
      Point to = east ? Point.of(1.2, at) : Point.of(at, 1.2);
      slab.raw = false;
      Scan scan = slab.scan(name, Orientation.ACROSS, from, to, 241, 400);
      scans.put(name, scan);
      across.put(
          name,
          new DetectDiffractions(Step.given(scan), slab.velocityStep(error), mm(12))
              .apply(Work.serial("events/across[" + name + "]")));
      slab.raw = true;
      Scan raw = slab.scan(name, Orientation.ACROSS, from, to, 241, 400);
      planes.put(
          name,
          new DetectPlanes(Step.given(raw), slab.velocityStep(error))
              .apply(Work.serial("events/planes[" + name + "]")));
    }
  }

  LinkEvents link(double error) {
    return new LinkEvents(
        Steps.given(across),
        Steps.given(new TreeMap<>()),
        Steps.given(planes),
        slab.velocityStep(error),
        mm(75),
        mm(12));
  }

  Targets targets(double error) {
    return link(error).apply(Work.serial("targets/linked"));
  }
}
