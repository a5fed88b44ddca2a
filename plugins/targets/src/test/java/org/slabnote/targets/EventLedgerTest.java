package org.slabnote.targets;

import static org.assertj.core.api.Assertions.assertThat;
import static org.slabnote.api.quantity.Quantities.mm;

import java.util.List;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;
import org.slabnote.api.Event;
import org.slabnote.api.EventState;
import org.slabnote.api.Events;
import org.slabnote.api.Orientation;
import org.slabnote.api.Step;
import org.slabnote.api.Steps;
import org.slabnote.api.Target;
import org.slabnote.api.Targets;
import org.slabnote.api.Work;

/** On the independent full-wave scans: one bar, and its multiples below it. */
class EventLedgerTest {
  private static Steps<Events> steps(Orientation orientation) {
    TreeMap<String, Events> map = new TreeMap<>();
    map.put("S1", new Events(FullWaveReferenceTest.detect(orientation)));
    return Steps.given(map);
  }

  private static Targets targets() {
    return new LinkEvents(
            steps(Orientation.ACROSS),
            steps(Orientation.ALONG),
            Steps.given(new TreeMap<>()),
            Step.given(FullWaveReferenceTest.VELOCITY),
            mm(75),
            mm(12))
        .apply(Work.serial("linked"));
  }

  @Test
  void theMultiplesOfTheBarAreNoTargets() {
    List<Target> list = targets().list();
    assertThat(list).hasSize(1);
    assertThat(list.get(0).start().x().value()).isBetween(0.39, 0.41);
    assertThat(list.get(0).depth().value().value()).isBetween(0.055, 0.065);
    assertThat(list.get(0).depth().u95().value()).isLessThan(0.010);
    assertThat(list.get(0).status()).isEqualTo(Target.Status.POSSIBLE);
  }

  @Test
  void theMultipleIsRejectedWithItsArithmeticAndNothingStrongStaysOpen() {
    Events ledger = new EventLedger(
            steps(Orientation.ACROSS),
            steps(Orientation.ALONG),
            Step.given(targets()),
            Step.given(FullWaveReferenceTest.VELOCITY))
        .apply(Work.serial("ledger"));
    int multiples = 0;
    for (Event e : ledger.list()) {
      if (e.depth().value().value() < 0.08) {
        assertThat(e.reason()).isEqualTo("T01");
        continue;
      }
      assertThat(e.state()).isNotEqualTo(EventState.EXPLAINED);
      if (e.state() == EventState.OPEN) {
        assertThat(e.amplitude()).isLessThan(0.032 * 1.2); // 30 dB below the bar's
      }
      multiples += e.reason().startsWith("multiple:") ? 1 : 0;
    }
    assertThat(multiples).isGreaterThanOrEqualTo(2);
  }
}
