package org.slabnote.velocity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.slabnote.api.quantity.Quantities.m;
import static org.slabnote.api.quantity.Quantities.mm;
import static org.slabnote.api.quantity.Quantities.ns;
import static org.slabnote.api.quantity.Quantities.ratio;

import java.util.ArrayList;
import java.util.List;
import java.util.ServiceLoader;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.junit.jupiter.api.DynamicNode;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;
import org.slabnote.api.Pick;
import org.slabnote.api.Picks;
import org.slabnote.api.Plugin;
import org.slabnote.api.Point;
import org.slabnote.api.Scan;
import org.slabnote.api.Step;
import org.slabnote.api.Steps;
import org.slabnote.api.VelocityEstimate;
import org.slabnote.api.Work;
import org.slabnote.testkit.InventedScan;
import org.slabnote.testkit.OperationContract;

class ContractTest {
  private static final Scan SCAN = InventedScan.bare()
      .direct(0)
      .track(Point.of(0, 0), Point.of(0.5, 0), 51)
      .bar(mm(250), mm(60), mm(12), 0.5)
      .noise(0.002, 5)
      .surfaceKnown()
      .build();

  @TestFactory
  Stream<DynamicNode> fitDiffractions() {
    return OperationContract.of(new FitDiffractions(Step.given(SCAN), mm(12), mm(400)));
  }

  @TestFactory
  Stream<DynamicNode> hyperbolaFit() {
    List<Pick> picks = new ArrayList<>();
    double zero = SCAN.requireSurface().value().value();
    for (int i = -10; i <= 10; i++) {
      double t = InventedScan.path(0.015 * i, 0.06, 0.06, 0.006) / 0.11;
      picks.add(new Pick(SCAN.pass(), m(0.25 + 0.015 * i), ns(zero + t)));
    }
    return OperationContract.of(new HyperbolaFit(Step.given(SCAN), new Picks("P", picks), mm(12)));
  }

  @TestFactory
  Stream<DynamicNode> combine() {
    TreeMap<String, List<VelocityEstimate>> map = new TreeMap<>();
    map.put("E01", new FitDiffractions(Step.given(SCAN), mm(12)).apply(Work.serial("f")));
    return OperationContract.of(new CombineVelocities(Steps.given(map), ratio(7)));
  }

  @TestFactory
  Stream<DynamicNode> stated() {
    return OperationContract.of(new StatedPermittivity(ratio(7), ratio(1), "an old survey"));
  }

  @TestFactory
  Stream<DynamicNode> knownDepth() {
    return OperationContract.of(new KnownDepth(
        Step.given(SCAN), new Pick(SCAN.pass(), mm(250), ns(3)), mm(60), mm(2), "a core"));
  }

  @Test
  void pluginIsFoundWithItsOperations() {
    assertThat(ServiceLoader.load(Plugin.class).stream().map(p -> p.get().id()))
        .contains("velocity");
    assertThat(new VelocityPlugin().operations()).hasSize(5);
  }

  /** Plane at 100 mm, s 60 mm, eps 8: 1.970 ns (computed by another program). */
  @Test
  void knownDepthGivesTheVelocityOfTheTable() {
    double zero = SCAN.requireSurface().value().value();
    VelocityEstimate v = new KnownDepth(
            Step.given(SCAN),
            new Pick(SCAN.pass(), mm(250), ns(zero + 1.970)),
            mm(100),
            mm(2),
            "core at 0.25 m")
        .apply(Work.serial("k"));
    assertThat(v.permittivity().value().value()).isCloseTo(8, within(0.005));
  }

  @Test
  void knownDepthRefusesWhatOutrunsLight() {
    double zero = SCAN.requireSurface().value().value();
    Pick early = new Pick(SCAN.pass(), mm(250), ns(zero + 0.5));
    assertThatThrownBy(() ->
            new KnownDepth(Step.given(SCAN), early, mm(100), mm(2), "core").apply(Work.serial("k")))
        .hasMessage(
            "velocity.known-depth: pick on pass E01: 0.5 ns after the surface time for a path of "
                + "208.8 mm, faster than light; expected more than 0.6965 ns. "
                + "Check depth, pick and surface time");
  }
}
