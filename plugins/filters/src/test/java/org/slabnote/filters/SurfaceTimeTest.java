package org.slabnote.filters;

import static org.assertj.core.api.Assertions.assertThat;
import static org.slabnote.api.quantity.Quantities.ns;

import org.junit.jupiter.api.Test;
import org.slabnote.api.Scan;
import org.slabnote.api.Step;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Measured;
import org.slabnote.api.quantity.TimeSpan;

class SurfaceTimeTest {

  private static Measured<TimeSpan> surface(Scan scan) {
    return new SurfaceTime(Step.given(scan)).apply(Work.serial("test"));
  }

  @Test
  void givesBackWhatTheSurveyStates() {
    Measured<TimeSpan> stated = Measured.of(ns(1.5), "survey", ns(0.01));
    assertThat(surface(FullWave.across().withSurface(stated))).isEqualTo(stated);
  }
}
