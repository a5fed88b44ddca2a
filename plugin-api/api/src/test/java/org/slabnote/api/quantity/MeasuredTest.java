package org.slabnote.api.quantity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.slabnote.api.quantity.Quantities.m;
import static org.slabnote.api.quantity.Quantities.mm;
import static org.slabnote.api.quantity.Quantities.ns;

import java.util.Map;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;

class MeasuredTest {

  /** 3 and 4 make 5; expanded by 2. */
  @Test
  void addsSourcesInSquares() {
    Measured<Length> depth =
        Measured.about(m(50)).from("pick", 3).from("velocity", -4).build();
    assertThat(depth.u()).isEqualTo(m(5));
    assertThat(depth.u95()).isEqualTo(m(10));
  }

  @Test
  void cancelsWhatTwoEstimatesShare() {
    Measured<Length> upper =
        Measured.about(m(1)).from("velocity", 4).from("pick 1", 3).build();
    Measured<Length> lower =
        Measured.about(m(2)).from("velocity", 4).from("pick 2", 3).build();
    assertThat(lower.minus(upper).budget()).isEqualTo(Map.of("pick 1", -3.0, "pick 2", 3.0));
    assertThat(lower.plus(upper).budget())
        .isEqualTo(Map.of("pick 1", 3.0, "pick 2", 3.0, "velocity", 8.0));
    assertThat(upper.minus(upper).u()).isEqualTo(m(0));
  }

  @Test
  void scalesValueAndBudget() {
    Measured<TimeSpan> twice = Measured.of(ns(1.5), "fit", ns(0.1)).times(-2);
    assertThat(twice.value()).isEqualTo(ns(-3));
    assertThat(twice.budget()).isEqualTo(Map.of("fit", -0.2));
  }

  @Test
  void takesOneMoreContribution() {
    Measured<Length> depth = Measured.exact(mm(60)).with("radius", mm(3)).with("pick", mm(4));
    assertThat(depth.u().value()).isEqualTo(0.005);
    assertThat(depth).hasToString("60 mm (U95 10 mm)");
  }

  @Test
  void keepsItsBudgetToItself() {
    TreeMap<String, Double> budget = new TreeMap<>(Map.of("fit", 0.1, "nothing", 0.0));
    Measured<Length> length = new Measured<>(m(1), budget);
    budget.put("later", 1.0);
    assertThat(length.budget()).isEqualTo(Map.of("fit", 0.1));
    assertThatThrownBy(() -> length.budget().put("later", 1.0))
        .isInstanceOf(UnsupportedOperationException.class);
  }

  @Test
  void refusesNamelessAndEndlessContributions() {
    assertThatThrownBy(() -> new Measured<>(m(1), new TreeMap<>(Map.of(" ", 0.1))))
        .hasMessage(
            "uncertainty source ' ' contributes 0.1; expected a named source and a finite number");
    assertThatThrownBy(() -> new Measured<>(m(1), new TreeMap<>(Map.of("fit", Double.NaN))))
        .hasMessage(
            "uncertainty source 'fit' contributes NaN; expected a named source and a finite number");
  }
}
