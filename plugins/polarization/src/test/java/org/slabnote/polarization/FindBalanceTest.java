package org.slabnote.polarization;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.slabnote.api.quantity.Quantities.mm;
import static org.slabnote.api.quantity.Quantities.ns;

import java.util.Optional;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;
import org.slabnote.api.Balance;
import org.slabnote.api.Orientation;
import org.slabnote.api.Scan;
import org.slabnote.api.Steps;
import org.slabnote.api.Work;
import org.slabnote.methods.wave.PairTheory;
import org.slabnote.testkit.InventedScan;

class FindBalanceTest {

  /** Base at 200 mm, along weaker by 20 log10(1.5) = 3.5 dB, less what theory gives for the plane. */
  @Test
  void theBaseGivesTheLevel() {
    Optional<Balance> found = balance(4, 0.30, 0.20);
    assertThat(found).isPresent();
    double theory = PairTheory.ofPlane(7, 0.06, 0.2, 2.0).ratio();
    var gain = found.get().gain();
    assertThat(gain.value().value()).isCloseTo(3.52 - theory, within(0.3));
    assertThat(gain.u().value()).isGreaterThanOrEqualTo(1);
    assertThat(found.get().evidence()).contains("on 4 of 4 passes");
  }

  @Test
  void theDirectWaveIsNeverTaken() {
    assertThat(balance(4, 0, 0)).isEmpty();
  }

  @Test
  void twoPassesAreTooFew() {
    assertThat(balance(2, 0.3, 0.2)).isEmpty();
  }

  @Test
  void theSurveysStatementComesFirst() {
    Balance stated = Fixtures.balanced();
    Scan across = scan("E01", Orientation.ACROSS, 0.3).balance(stated).build();
    Scan along = scan("E01", Orientation.ALONG, 0.2).build();
    assertThat(new FindBalance(Fixtures.steps(across), Fixtures.steps(along), Fixtures.velocity(7))
            .apply(Work.serial("b")))
        .contains(stated);
  }

  private static Optional<Balance> balance(int passes, double across, double along) {
    TreeMap<String, Scan> first = new TreeMap<>();
    TreeMap<String, Scan> second = new TreeMap<>();
    for (int k = 0; k < passes; k++) {
      String pass = "E0" + k;
      first.put(pass, scan(pass, Orientation.ACROSS, across).noise(0.005, k).build());
      second.put(pass, scan(pass, Orientation.ALONG, along).noise(0.005, 50 + k).build());
    }
    return new FindBalance(Steps.given(first), Steps.given(second), Fixtures.velocity(7))
        .apply(Work.serial("b"));
  }

  private static InventedScan scan(String pass, Orientation orientation, double base) {
    InventedScan scan = InventedScan.bare()
        .named(pass, orientation.name())
        .orientation(orientation)
        .axis(ns(0.03), 300)
        .velocity(org.slabnote.api.quantity.Quantities.permittivity(7))
        .bar(mm(110), mm(50), mm(16), 0.3)
        .surfaceKnown();
    return base > 0 ? scan.plane(mm(200), base) : scan;
  }
}
