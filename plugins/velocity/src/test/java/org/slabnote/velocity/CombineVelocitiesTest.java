package org.slabnote.velocity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.slabnote.api.quantity.Quantities.mPerNs;
import static org.slabnote.api.quantity.Quantities.permittivity;
import static org.slabnote.api.quantity.Quantities.ratio;

import java.util.ArrayList;
import java.util.List;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;
import org.slabnote.api.Steps;
import org.slabnote.api.VelocityEstimate;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Measured;

class CombineVelocitiesTest {

  /** Fits of 7 +- 3 % and a tendon at 50 degrees on every pass: 7 sin^2 50 = 4.1. */
  @Test
  void obliquelyCrossedTargetsAreLeftOut() {
    double[] eps = {7.0, 6.9, 7.15, 4.1, 7.05, 6.85, 4.2, 7.1, 4.0};
    VelocityEstimate joined = join(eps);
    assertThat(joined.permittivity().value().value()).isCloseTo(7.0, within(0.1));
    assertThat(joined.evidence()).contains("3 left out, permittivity 4.00 to 4.20");
    assertThat(joined.members()).hasSize(9);
  }

  @Test
  void multiplesAreLeftOut() {
    assertThat(join(6.0, 6.1, 5.9, 15.0, 14.5).permittivity().value().value())
        .isCloseTo(6.0, within(0.1));
  }

  @Test
  void whereNoHalfAgreesTheAnswerIsWide() {
    VelocityEstimate joined = join(5.0, 7.0, 9.5);
    var eps = joined.permittivity();
    assertThat(eps.u95().value()).isGreaterThan(1.5);
    assertThat(joined.evidence()).contains("disagree");
  }

  /** Birge: with equal uncertainties the scatter is that of the mean, s / sqrt(n), plus the shared. */
  @Test
  void sharedPartsAreNotAveragedAway() {
    List<VelocityEstimate> list = new ArrayList<>();
    for (int i = 0; i < 16; i++) {
      list.add(one(7.0, "p" + i));
    }
    Measured<?> v = join(list).velocity();
    assertThat(v.budget().get("c#diameter")).isCloseTo(-0.0010, within(1e-9));
    assertThat(v.budget().get("c#wavelet")).isCloseTo(-0.0008, within(1e-9));
    assertThat(v.budget().get("c#fits")).isLessThan(0.0007);
    assertThat(v.budget().get("p3/s#time zero")).isCloseTo(0.0016 / 16, within(1e-9));
  }

  @Test
  void withoutFitsTheAssumedValueCarriesTwentyPerCent() {
    VelocityEstimate joined = join(new ArrayList<>());
    assertThat(joined.method()).isEqualTo("assumed permittivity");
    assertThat(joined.permittivity().value().value()).isCloseTo(8, within(1e-9));
    assertThat(joined.permittivity().u().value()).isCloseTo(1.6, within(1e-9));
    assertThat(joined.evidence()).contains("no clean diffraction was found");
  }

  private static VelocityEstimate one(double eps, String pass) {
    var v = Measured.about(permittivity(eps))
        .from(pass + "#fit 1", 0.0010)
        .from(pass + "#wavelet", -0.0008)
        .from(pass + "#diameter", -0.0010)
        .from(pass + "/s#time zero", 0.0016)
        .build();
    assertThat(v.u()).isLessThan(mPerNs(0.01));
    return new VelocityEstimate(v, "diffraction fit", pass, List.of());
  }

  private static VelocityEstimate join(double... eps) {
    List<VelocityEstimate> list = new ArrayList<>();
    for (int i = 0; i < eps.length; i++) {
      list.add(one(eps[i], "p" + i));
    }
    return join(list);
  }

  private static VelocityEstimate join(List<VelocityEstimate> list) {
    TreeMap<String, List<VelocityEstimate>> map = new TreeMap<>();
    map.put("E01", list);
    map.put("E02", List.of());
    return new CombineVelocities(Steps.given(map), ratio(8)).apply(Work.serial("c"));
  }
}
