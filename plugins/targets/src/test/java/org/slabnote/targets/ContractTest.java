package org.slabnote.targets;

import static org.slabnote.api.quantity.Quantities.mPerNs;
import static org.slabnote.api.quantity.Quantities.mm;
import static org.slabnote.api.quantity.Quantities.permittivity;

import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.DynamicNode;
import org.junit.jupiter.api.TestFactory;
import org.slabnote.api.Step;
import org.slabnote.api.VelocityEstimate;
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
}
