package org.slabnote.imaging;

import static org.slabnote.api.quantity.Quantities.mPerNs;
import static org.slabnote.api.quantity.Quantities.mm;

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
  @TestFactory
  Stream<DynamicNode> diffractionStack() {
    VelocityEstimate velocity =
        new VelocityEstimate(Measured.exact(mPerNs(0.11)), "stated", "test", List.of());
    return OperationContract.of(new DiffractionStack(
        Step.given(InventedScan.ordinary().surfaceKnown().build()),
        Step.given(velocity),
        mm(5),
        mm(150)));
  }
}
