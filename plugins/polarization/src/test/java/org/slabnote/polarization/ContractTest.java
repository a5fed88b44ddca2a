package org.slabnote.polarization;

import static org.assertj.core.api.Assertions.assertThat;
import static org.slabnote.api.quantity.Quantities.mm;

import java.util.List;
import java.util.Optional;
import java.util.ServiceLoader;
import java.util.stream.Stream;
import org.junit.jupiter.api.DynamicNode;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;
import org.slabnote.api.Orientation;
import org.slabnote.api.Plugin;
import org.slabnote.api.Scan;
import org.slabnote.api.Step;
import org.slabnote.api.Targets;
import org.slabnote.testkit.InventedScan;
import org.slabnote.testkit.OperationContract;

class ContractTest {
  private static final Scan ACROSS = scan(Orientation.ACROSS);
  private static final Scan ALONG = scan(Orientation.ALONG);

  @TestFactory
  Stream<DynamicNode> findBalance() {
    return OperationContract.of(
        new FindBalance(Fixtures.steps(ACROSS), Fixtures.steps(ALONG), Fixtures.velocity(7)));
  }

  @TestFactory
  Stream<DynamicNode> pairRatios() {
    return OperationContract.of(new PairRatios(
        Fixtures.steps(ACROSS),
        Fixtures.steps(ALONG),
        Step.given(new Targets(List.of(Fixtures.target("T01", 0.11, 0.05, false)))),
        Fixtures.velocity(7),
        Step.given(Optional.of(Fixtures.balanced()))));
  }

  @TestFactory
  Stream<DynamicNode> classify() {
    return OperationContract.of(new Classify(
        Step.given(new Targets(List.of(
            Fixtures.target("T01", 0.11, 0.05, false).withPairRatio(Fixtures.ratio(3, 1, 60))))),
        Fixtures.velocity(7),
        ACROSS.antenna()));
  }

  @Test
  void pluginIsFoundWithItsOperations() {
    assertThat(ServiceLoader.load(Plugin.class).stream().map(p -> p.get().id()))
        .contains("polarization");
    assertThat(new PolarizationPlugin().operations()).hasSize(3);
  }

  private static Scan scan(Orientation orientation) {
    return InventedScan.bare()
        .orientation(orientation)
        .direct(0)
        .bar(mm(110), mm(50), mm(16), 0.3)
        .noise(0.01, 3)
        .surfaceKnown()
        .build();
  }
}
