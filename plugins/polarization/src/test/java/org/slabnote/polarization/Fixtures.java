package org.slabnote.polarization;

import static org.slabnote.api.quantity.Quantities.dB;
import static org.slabnote.api.quantity.Quantities.deg;
import static org.slabnote.api.quantity.Quantities.m;
import static org.slabnote.api.quantity.Quantities.mPerNs;
import static org.slabnote.api.quantity.Quantities.mm;
import static org.slabnote.api.quantity.Quantities.permittivity;

import java.util.List;
import java.util.Optional;
import java.util.TreeMap;
import org.slabnote.api.Balance;
import org.slabnote.api.PairRatio;
import org.slabnote.api.Point;
import org.slabnote.api.Scan;
import org.slabnote.api.Step;
import org.slabnote.api.Steps;
import org.slabnote.api.Target;
import org.slabnote.api.Targets;
import org.slabnote.api.VelocityEstimate;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Measured;
import org.slabnote.api.quantity.TimeSpan;

/** Small values that the tests of this package share. */
final class Fixtures {
  private Fixtures() {}

  static Balance balanced() {
    return new Balance(
        Measured.of(dB(0), "survey#balance", dB(0.3)), Measured.exact(new TimeSpan(0)), "stated");
  }

  static Step<VelocityEstimate> velocity(double eps) {
    return Step.given(new VelocityEstimate(
        Measured.of(permittivity(eps), "v#fit", mPerNs(0.002)), "stated", "test", List.of()));
  }

  /** A point on the pass y = 0, or a line across it. */
  static Target target(String name, double x, double cover, boolean line) {
    return new Target(
        name,
        Point.of(x, line ? -0.5 : 0),
        line ? Optional.of(Point.of(x, 0.5)) : Optional.empty(),
        Measured.of(m(cover), "z#depth", mm(4)),
        List.of(m(cover), m(cover)),
        Measured.exact(m(0)),
        Target.Reference.TOP,
        Measured.of(mm(12), "d#diameter", mm(5)),
        line ? Optional.of(deg(90)) : Optional.empty(),
        Optional.empty(),
        new TreeMap<>(),
        Target.Status.PROBABLE,
        "",
        List.of());
  }

  static PairRatio ratio(double level, double u, double phase) {
    return new PairRatio(Measured.of(dB(level), "r#scatter", dB(u)), deg(phase), true, "pass E01");
  }

  static Steps<Scan> steps(Scan... scans) {
    TreeMap<String, Scan> map = new TreeMap<>();
    for (Scan s : scans) {
      map.put(s.pass(), s);
    }
    return Steps.given(map);
  }

  static Target rate(Scan across, Scan along, Target target, double eps, boolean balanced) {
    return new PairRatios(
            steps(across),
            steps(along),
            Step.given(new Targets(List.of(target))),
            velocity(eps),
            Step.given(balanced ? Optional.of(balanced()) : Optional.empty()))
        .apply(Work.serial("rate"))
        .list()
        .get(0);
  }
}
