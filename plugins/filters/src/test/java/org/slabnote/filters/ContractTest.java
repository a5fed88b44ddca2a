package org.slabnote.filters;

import static org.assertj.core.api.Assertions.assertThat;
import static org.slabnote.api.quantity.Quantities.MHz;
import static org.slabnote.api.quantity.Quantities.dB;
import static org.slabnote.api.quantity.Quantities.m;
import static org.slabnote.api.quantity.Quantities.mm;
import static org.slabnote.api.quantity.Quantities.ns;

import java.util.Arrays;
import java.util.stream.Stream;
import org.junit.jupiter.api.DynamicNode;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;
import org.slabnote.api.Orientation;
import org.slabnote.api.Scan;
import org.slabnote.api.Step;
import org.slabnote.api.quantity.Measured;
import org.slabnote.testkit.InventedScan;
import org.slabnote.testkit.InventedSurvey;
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
    Scan scan =
        InventedScan.bare().bar(mm(110), mm(50), mm(16), 0.3).noise(0.01, 3).build();
    return OperationContract.of(new SurfaceTime(Step.given(scan)));
  }

  @TestFactory
  Stream<DynamicNode> atSurface() {
    return OperationContract.of(new AtSurface(
        Step.given(InventedScan.bare().build()),
        Step.given(Measured.of(ns(0.8), "test", ns(0.02)))));
  }

  @TestFactory
  Stream<DynamicNode> gain() {
    return OperationContract.of(new Gain(Gain.Spreading.LINE, dB(2), dB(60)));
  }

  @TestFactory
  Stream<DynamicNode> acquisitionChecks() {
    InventedSurvey survey = InventedSurvey.of(
        InventedScan.bare()
            .named("E01", "across")
            .bar(mm(110), mm(50), mm(16), 0.3)
            .noise(0.01, 3)
            .build(),
        InventedScan.bare()
            .named("E01", "along")
            .orientation(Orientation.ALONG)
            .noise(0.01, 4)
            .build(),
        InventedScan.bare()
            .named("E02", "across")
            .bar(mm(110), mm(50), mm(16), 0.3)
            .noise(0.01, 5)
            .build());
    return OperationContract.of(
        new AcquisitionChecks(survey.steps(Orientation.ACROSS), survey.steps(Orientation.ALONG)));
  }

  @Test
  void everyOperationOfThePluginIsHeldToTheContract() {
    long factories = Arrays.stream(ContractTest.class.getDeclaredMethods())
        .filter(method -> method.isAnnotationPresent(TestFactory.class))
        .count();
    // background removal stands there twice
    assertThat(factories).isEqualTo(new FiltersPlugin().operations().size() + 1);
  }
}
