package org.slabnote.forward;

import static org.slabnote.api.quantity.Quantities.MHz;
import static org.slabnote.api.quantity.Quantities.dB;
import static org.slabnote.api.quantity.Quantities.deg;
import static org.slabnote.api.quantity.Quantities.mm;
import static org.slabnote.api.quantity.Quantities.ns;
import static org.slabnote.api.quantity.Quantities.ratio;

import java.util.Optional;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.junit.jupiter.api.DynamicNode;
import org.junit.jupiter.api.TestFactory;
import org.slabnote.api.Antenna;
import org.slabnote.api.Point;
import org.slabnote.api.SurveyRow;
import org.slabnote.testkit.OperationContract;

class ContractTest {
  @TestFactory
  Stream<DynamicNode> rayScan() {
    SlabModel slab = SlabModel.of(
            new Concrete(ratio(7), ratio(0.01), ratio(0.02), mm(180)),
            new Instrument(MHz(1500), ns(0.7), ns(0.01), dB(1), ns(0.02), dB(6), dB(-40), dB(-30)))
        .metal("bar", mm(12), Node.of(0.1, -1, 0.04), Node.of(0.1, 1, 0.04))
        .build();
    Antenna antenna = new Antenna(deg(90), deg(90), mm(50), MHz(1500));
    SurveyRow row = new SurveyRow(
        "P1",
        "1",
        "p1.sgy",
        antenna,
        Point.of(0, 0),
        Point.of(0.2, 0),
        ns(0.05),
        Optional.empty(),
        Optional.empty(),
        new TreeMap<>());
    return OperationContract.of(new RayScan(slab, row, 21, 120, 5));
  }
}
