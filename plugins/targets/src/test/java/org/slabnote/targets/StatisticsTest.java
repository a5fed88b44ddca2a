package org.slabnote.targets;

import static org.assertj.core.api.Assertions.assertThat;
import static org.slabnote.api.quantity.Quantities.mm;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.slabnote.api.Event;
import org.slabnote.api.Orientation;
import org.slabnote.api.Point;
import org.slabnote.api.Scan;
import org.slabnote.api.Step;
import org.slabnote.api.Work;

/** Counts on many invented scans: only times are physics (exact paths); seeds are fixed. */
class StatisticsTest {
  private static List<Event> detect(Simulator s, Scan scan) {
    return new DetectDiffractions(Step.given(scan), s.velocityStep(0), mm(12))
        .apply(Work.serial("events/" + scan.pass()))
        .list();
  }

  /** Stated: 0.01 events a scan from noise alone. 40 scans: 0.4 expected, more than 3 in one of 1000. */
  @Test
  void noiseAloneGivesNoMoreThanTheStatedFalseAlarms() {
    int events = 0;
    for (int k = 0; k < 40; k++) {
      Simulator s = new Simulator(7, 2.0);
      s.scatterers = 0;
      s.seed = k;
      Scan scan = s.scan("N" + k, Orientation.ACROSS, Point.of(0, 0), Point.of(0.6, 0), 121, 300);
      events += detect(s, scan).size();
    }
    assertThat(events).isLessThanOrEqualTo(3);
  }

  /** Permittivity 4 to 12, 0.9 to 2.6 GHz, cover one to five wavelengths' thirds, crossing 40 to 90 deg. */
  @Test
  void findsSingleBarsAndCoversTheirDepthAndPlace() {
    SplittableRandom random = new SplittableRandom(11);
    double[] frequencies = {0.9, 1.5, 2.0, 2.6};
    int found = 0;
    int covered = 0;
    int placed = 0;
    int n = 40;
    for (int k = 0; k < n; k++) {
      double eps = 4 + 8 * random.nextDouble();
      double f = frequencies[k % 4];
      Simulator s = new Simulator(eps, f);
      s.seed = k;
      s.scatterers = 20;
      double wavelength = s.velocity() / f;
      double cover = wavelength * (0.5 + 1.2 * random.nextDouble());
      double turn = Math.toRadians(40 + 50 * random.nextDouble());
      double at = 0.25 + 0.3 * random.nextDouble();
      double dx = Math.cos(turn);
      double dy = Math.sin(turn);
      s.bar(at - dx, -dy, at + dx, dy, cover, 0.012 + 0.01 * random.nextDouble(), 1);
      Scan scan = s.scan("B" + k, Orientation.ACROSS, Point.of(0, 0), Point.of(0.8, 0), 161, 400);
      List<Event> near = new ArrayList<>();
      for (Event e : detect(s, scan)) {
        if (Math.abs(e.place().x().value() - at) < 0.02
            && Math.abs(e.depth().value().value() - cover) < 0.02) {
          near.add(e);
        }
      }
      found += near.isEmpty() ? 0 : 1;
      covered += near.stream()
              .anyMatch(e ->
                  Math.abs(e.depth().value().value() - cover) <= e.depth().u95().value())
          ? 1
          : 0;
      placed += near.stream().anyMatch(e -> Math.abs(e.place().x().value() - at) < 0.01) ? 1 : 0;
    }
    assertThat(found).isGreaterThanOrEqualTo(38);
    assertThat(placed).isGreaterThanOrEqualTo(38);
    assertThat(covered).isGreaterThanOrEqualTo(36);
  }
}
