package org.slabnote.filters;

import static org.slabnote.api.quantity.Quantities.MHz;
import static org.slabnote.api.quantity.Quantities.mm;
import static org.slabnote.api.quantity.Quantities.m;
import static org.slabnote.api.quantity.Quantities.ns;

import java.util.stream.Stream;
import org.junit.jupiter.api.DynamicNode;
import org.junit.jupiter.api.TestFactory;
import org.slabnote.api.Scan;
import org.slabnote.api.Step;
import org.slabnote.api.quantity.Measured;
import org.slabnote.testkit.InventedScan;
import org.slabnote.testkit.OperationContract;

class ContractTest {

  @TestFactory
  Stream<DynamicNode> dewow() {
    return OperationContract.of(new Dewow(ns(1.0)));
  }

  @TestFactory
  Stream<DynamicNode> medianDewow() {
    return OperationContract.of(new MedianDewow(ns(1.0)));
  }

  @TestFactory
  Stream<DynamicNode> backgroundOfTheWholePass() {
    return OperationContract.of(new BackgroundRemoval(m(0)));
  }

  @TestFactory
  Stream<DynamicNode> runningBackground() {
    return OperationContract.of(new BackgroundRemoval(mm(100)));
  }

  @TestFactory
  Stream<DynamicNode> bandPass() {
    return OperationContract.of(new BandPass(MHz(500), MHz(5000)));
  }

  @TestFactory
  Stream<DynamicNode> envelope() {
    return OperationContract.of(new Envelope());
  }

  @TestFactory
  Stream<DynamicNode> surfaceTime() {
    Scan scan = InventedScan.bare().bar(mm(110), mm(50), mm(16), 0.3).noise(0.01, 3).build();
    return OperationContract.of(new SurfaceTime(Step.given(scan)));
  }

  @TestFactory
  Stream<DynamicNode> atSurface() {
    return OperationContract.of(
        new AtSurface(
            Step.given(InventedScan.bare().build()),
            Step.given(Measured.of(ns(0.8), "test", ns(0.02)))));
  }
}
