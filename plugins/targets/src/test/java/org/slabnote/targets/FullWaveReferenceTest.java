package org.slabnote.targets;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.slabnote.api.quantity.Quantities.mPerNs;
import static org.slabnote.api.quantity.Quantities.mm;
import static org.slabnote.api.quantity.Quantities.permittivity;

import java.util.List;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.slabnote.api.Event;
import org.slabnote.api.Orientation;
import org.slabnote.api.Step;
import org.slabnote.api.VelocityEstimate;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Measured;

/** Against an independent full-wave solver: see README.md beside the scans. */
class FullWaveReferenceTest {
  static final VelocityEstimate VELOCITY = new VelocityEstimate(
      Measured.of(permittivity(6), "velocity#fit", mPerNs(0.003)), "given", "", List.of());

  /** Tolerances: position 10 mm, cover 5 mm with U95 at most 10 mm that covers the truth. */
  @ParameterizedTest
  @EnumSource(names = {"ACROSS", "ALONG"})
  void findsTheBarAtItsPlaceAndDepth(Orientation orientation) {
    List<Event> events = detect(orientation);
    Event bar = events.stream()
        .max((a, b) -> Double.compare(a.amplitude(), b.amplitude()))
        .orElseThrow();
    assertThat(bar.place().x().value()).isCloseTo(0.400, within(0.010));
    assertThat(bar.depth().value().value()).isCloseTo(0.060, within(0.005));
    assertThat(bar.depth().u95().value()).isLessThan(0.010);
    assertThat(Math.abs(bar.depth().value().value() - 0.060))
        .isLessThan(bar.depth().u95().value());
  }

  /** All else in the scans is the surface-bar multiple, below the bar, weaker, its polarity reversed. */
  @ParameterizedTest
  @EnumSource(names = {"ACROSS", "ALONG"})
  void findsNothingButTheBarAndItsMultiples(Orientation orientation) {
    for (Event e : detect(orientation)) {
      assertThat(e.place().x().value()).isCloseTo(0.400, within(0.010));
    }
  }

  static List<Event> detect(Orientation orientation) {
    return new DetectDiffractions(
            Step.given(FullWave.scan(orientation)), Step.given(VELOCITY), mm(12))
        .apply(Work.serial("cell/seen"))
        .list();
  }
}
