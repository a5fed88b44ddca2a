package org.slabnote.targets;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.slabnote.api.quantity.Quantities.m;
import static org.slabnote.api.quantity.Quantities.mm;
import static org.slabnote.api.quantity.Quantities.ns;
import static org.slabnote.api.quantity.Quantities.permittivity;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.slabnote.api.Event;
import org.slabnote.api.Events;
import org.slabnote.api.Pick;
import org.slabnote.api.Picks;
import org.slabnote.api.Scan;
import org.slabnote.api.Step;
import org.slabnote.api.VelocityEstimate;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Length;
import org.slabnote.api.quantity.Measured;
import org.slabnote.api.quantity.TimeSpan;
import org.slabnote.api.quantity.Velocity;
import org.slabnote.testkit.InventedScan;

/** Depths and budgets by hand (JCGM 100:2008, 5.1.2). */
class DepthBudgetTest {
  private static final Velocity V = permittivity(8);

  private static Scan scan() {
    return InventedScan.bare()
        .bar(mm(110), mm(50), mm(12.7), 0.3)
        .velocity(V)
        .build()
        .withSurface(Measured.of(ns(0.8), "surface#zero", ns(0.05)));
  }

  /**
   * Planes at 25, 50, 100, 200 mm, separation 60 mm, eps 8: 0.737, 1.100, 1.970, 3.816 ns by the exact
   * straight path (computed by textbook formula for the trade notes). Tolerance: the time's last digit.
   */
  @ParameterizedTest
  @CsvSource({"0.737, 0.025", "1.100, 0.050", "1.970, 0.100", "3.816, 0.200"})
  void invertsTheExactPath(double time, double depth) {
    Work work = Work.serial("cell/events");
    Scan s = scan();
    Measured<TimeSpan> t = DepthBudget.time(s, time, 0, 1, work);
    VelocityEstimate v = new VelocityEstimate(Measured.exact(V), "given", "", List.of());
    assertThat(DepthBudget.depth(s, v, t, 0.5, true, work).value().value())
        .isCloseTo(depth, within(1e-4));
  }

  /**
   * u(z)^2 = (dz/dt u(t0))^2 + (dz/dv u(v))^2, dz/dt = v^2 t / (4 z), dz/dv = v t^2 / (4 z). At 100 mm:
   * v = 0.105993, t = 1.96998: dz/dt = 0.055332 m/ns, dz/dv = 1.02839 ns.
   */
  @Test
  void addsVelocityAndTimeZeroWhenTheyAreIndependent() {
    Measured<Length> z = plane(Measured.of(V, "fit", new Velocity(0.002)));
    double u = Math.hypot(0.055332 * 0.05, 1.02839 * 0.002);
    double delay = 0.03 * 0.5 * 0.055332;
    assertThat(z.u().value()).isCloseTo(Math.hypot(u, delay), within(2e-6));
  }

  /** A velocity that a late time zero raises: 0.02 m/ns per ns. Their parts subtract before squaring. */
  @Test
  void cancelsWhatVelocityAndTimeZeroShare() {
    Measured<Velocity> v = Measured.of(V, "surface#zero", new Velocity(0.02 * 0.05));
    double shared = (-0.055332 + 1.02839 * 0.02) * 0.05;
    double delay = 0.03 * 0.5 * 0.055332;
    assertThat(plane(v).u().value()).isCloseTo(Math.hypot(shared, delay), within(2e-6));
  }

  private static Measured<Length> plane(Measured<Velocity> v) {
    Work work = Work.serial("cell/events");
    Scan s = scan();
    Measured<TimeSpan> t = DepthBudget.time(s, 1.96998, 0, 1, work);
    return DepthBudget.depth(
        s, new VelocityEstimate(v, "given", "", List.of()), t, 0.5, true, work);
  }

  /** The bar's apex: 0.8 + 1.1003 ns; the delay assumed for the envelope is 0.01 periods. */
  @Test
  void aPickByHandStandsWhereItWasSet() {
    Picks picks = new Picks("mine", List.of(new Pick("E01", m(0.11), ns(1.9003))));
    Events events = new PickTarget(
            Step.given(scan()),
            picks,
            Step.given(new VelocityEstimate(Measured.exact(V), "given", "", List.of())),
            mm(12.7))
        .apply(Work.serial("cell/mine"));
    assertThat(events.list()).hasSize(1);
    Event e = events.list().get(0);
    assertThat(e.place().x().value()).isCloseTo(0.11, within(1e-12));
    assertThat(e.time().value().value()).isCloseTo(1.1003, within(1e-12));
    assertThat(e.depth().value().value()).isCloseTo(0.050, within(6e-4));
  }
}
