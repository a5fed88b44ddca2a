package org.slabnote.targets;

import static org.slabnote.api.quantity.Quantities.m;
import static org.slabnote.api.quantity.Quantities.mPerNs;
import static org.slabnote.api.quantity.Quantities.mm;
import static org.slabnote.api.quantity.Quantities.ns;
import static org.slabnote.api.quantity.Quantities.permittivity;

import java.util.List;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.junit.jupiter.api.DynamicNode;
import org.junit.jupiter.api.TestFactory;
import org.slabnote.api.Cut;
import org.slabnote.api.Events;
import org.slabnote.api.Pick;
import org.slabnote.api.Picks;
import org.slabnote.api.Point;
import org.slabnote.api.Scan;
import org.slabnote.api.Step;
import org.slabnote.api.Steps;
import org.slabnote.api.Targets;
import org.slabnote.api.VelocityEstimate;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Measured;
import org.slabnote.testkit.InventedScan;
import org.slabnote.testkit.OperationContract;

class ContractTest {
  private static final Step<VelocityEstimate> VELOCITY = Step.given(new VelocityEstimate(
      Measured.of(permittivity(7), "velocity#fit", mPerNs(0.003)), "given", "", List.of()));

  @TestFactory
  Stream<DynamicNode> detectDiffractions() {
    return OperationContract.of(
        new DetectDiffractions(Step.given(InventedScan.ordinary().build()), VELOCITY, mm(12)));
  }

  private static Step<Events> events(String pass) {
    Scan scan = InventedScan.ordinary().named(pass, "across").build();
    return Step.given(new DetectDiffractions(Step.given(scan), VELOCITY, mm(12))
        .apply(Work.serial("events/" + pass)));
  }

  private static Steps<Events> passes() {
    TreeMap<String, Events> map = new TreeMap<>();
    map.put("E01", events("E01").get());
    map.put("E02", events("E02").get());
    return Steps.given(map);
  }

  private static LinkEvents link() {
    return new LinkEvents(
        passes(),
        Steps.given(new TreeMap<>()),
        Steps.given(new TreeMap<>()),
        VELOCITY,
        mm(75),
        mm(12));
  }

  private static Step<Targets> targets() {
    return Step.given(link().apply(Work.serial("linked")));
  }

  private static Sight sight() {
    TreeMap<String, Scan> scans = new TreeMap<>();
    scans.put("E01", InventedScan.ordinary().build());
    return new Sight(Steps.given(scans), targets(), VELOCITY);
  }

  private static EventLedger ledger() {
    return new EventLedger(passes(), Steps.given(new TreeMap<>()), targets(), VELOCITY);
  }

  @TestFactory
  Stream<DynamicNode> detectPlanes() {
    return OperationContract.of(
        new DetectPlanes(Step.given(InventedScan.ordinary().build()), VELOCITY));
  }

  @TestFactory
  Stream<DynamicNode> pickTarget() {
    Picks picks = new Picks("mine", List.of(new Pick("E01", m(0.11), ns(2.0))));
    return OperationContract.of(
        new PickTarget(Step.given(InventedScan.ordinary().build()), picks, VELOCITY, mm(12)));
  }

  @TestFactory
  Stream<DynamicNode> linkEvents() {
    return OperationContract.of(link());
  }

  @TestFactory
  Stream<DynamicNode> eventLedger() {
    return OperationContract.of(ledger());
  }

  @TestFactory
  Stream<DynamicNode> sightOfScans() {
    return OperationContract.of(sight());
  }

  @TestFactory
  Stream<DynamicNode> clearance() {
    Cut cut = new Cut(
        "C1",
        Cut.Kind.CORE,
        Point.of(0.1, 0),
        Point.of(0.1, 0),
        mm(50),
        mm(150),
        mm(20),
        new TreeMap<>());
    return OperationContract.of(new Clearance(
        targets(),
        cut,
        Step.given(sight().apply(Work.serial("seen"))),
        Step.given(ledger().apply(Work.serial("ledger")))));
  }
}
