package org.slabnote.api.quantity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.slabnote.api.quantity.Quantities.GHz;
import static org.slabnote.api.quantity.Quantities.MHz;
import static org.slabnote.api.quantity.Quantities.dB;
import static org.slabnote.api.quantity.Quantities.deg;
import static org.slabnote.api.quantity.Quantities.ft;
import static org.slabnote.api.quantity.Quantities.in;
import static org.slabnote.api.quantity.Quantities.m;
import static org.slabnote.api.quantity.Quantities.mPerNs;
import static org.slabnote.api.quantity.Quantities.mm;
import static org.slabnote.api.quantity.Quantities.ns;
import static org.slabnote.api.quantity.Quantities.permittivity;
import static org.slabnote.api.quantity.Quantities.ps;
import static org.slabnote.api.quantity.Quantities.ratio;

import java.util.List;
import org.junit.jupiter.api.Test;

class QuantitiesTest {

  /** The inch is 25.4 mm and the foot 304.8 mm exactly (International Yard and Pound, 1959). */
  @Test
  void convertsToTheNearestDouble() {
    assertThat(mm(16).value()).isEqualTo(0.016);
    assertThat(in(24).value()).isEqualTo(0.6096).isNotEqualTo(24 * 0.0254);
    assertThat(ft(10).value()).isEqualTo(3.048);
    assertThat(ps(98).value()).isEqualTo(0.098);
    assertThat(GHz(2.6)).isEqualTo(MHz(2600));
  }

  /** SI units: metre, second, hertz, metre per second, radian. */
  @Test
  void tellsSiUnits() {
    assertThat(mm(16).si()).isEqualTo(0.016);
    assertThat(ns(1.5).si()).isEqualTo(1.5e-9);
    assertThat(MHz(2000).si()).isEqualTo(2e9);
    assertThat(mPerNs(0.1).si()).isCloseTo(1e8, within(1e-6));
    assertThat(deg(180).si()).isEqualTo(Math.PI);
  }

  /** c = 0.299792458 m/ns exactly (SI). Permittivity 9: a third of it. */
  @Test
  void knowsVelocityAndPermittivity() {
    assertThat(permittivity(9).value()).isCloseTo(0.299792458 / 3, within(1e-16));
    assertThat(permittivity(6.25).permittivity()).isCloseTo(6.25, within(1e-14));
    assertThat(permittivity(1)).isEqualTo(Velocity.LIGHT);
    assertThat(mPerNs(0.1).times(ns(3))).isEqualTo(m(0.1 * 3));
    assertThat(m(0.06).over(Velocity.LIGHT).value()).isCloseTo(0.20014, within(1e-5));
    assertThat(m(0.3).over(ns(3))).isEqualTo(mPerNs(0.3 / 3));
  }

  /** 20 log10: a factor of 10 is 20 dB, of 2 is 6.0206 dB. */
  @Test
  void knowsDecibels() {
    assertThat(Decibel.ofAmplitude(10)).isEqualTo(dB(20));
    assertThat(Decibel.ofAmplitude(2).value()).isCloseTo(6.0206, within(1e-4));
    assertThat(dB(-6.020599913279624).amplitude()).isCloseTo(0.5, within(1e-15));
  }

  @Test
  void calculatesWithinAKind() {
    assertThat(mm(16).plus(mm(4)).minus(mm(5)).times(2)).isEqualTo(m((0.016 + 0.004 - 0.005) * 2));
    assertThat(mm(30).over(mm(20))).isEqualTo(0.03 / 0.02);
    assertThat(ns(-2).abs()).isEqualTo(ns(2));
    assertThat(mm(5)).isLessThan(mm(6));
    assertThat(MHz(2000).period()).isEqualTo(ns(0.5));
    assertThat(deg(-90).modulo180()).isEqualTo(deg(90));
    assertThat(deg(360).modulo180()).isEqualTo(deg(0));
  }

  @Test
  void isAlwaysFinite() {
    assertThatThrownBy(() -> m(Double.NaN))
        .hasMessage("a quantity in m must be a finite number, not NaN");
    assertThatThrownBy(() -> ns(1).times(Double.POSITIVE_INFINITY))
        .hasMessage("a quantity in ns must be a finite number, not infinity");
    assertThat(m(-0.0)).isEqualTo(m(0.0));
  }

  @Test
  void readsAsAPersonWrites() {
    List<Quantity<?>> shown = List.of(
        mm(16),
        m(1.5),
        ns(0.1),
        MHz(2000),
        mPerNs(0.1),
        deg(45),
        dB(-3.25),
        ratio(6.25),
        m(-0.0605));
    assertThat(shown.stream().map(Object::toString))
        .containsExactly(
            "16 mm",
            "1.5 m",
            "0.1 ns",
            "2000 MHz",
            "0.1 m/ns",
            "45 deg",
            "-3.25 dB",
            "6.25",
            "-60.5 mm");
    assertThat(shown.stream().map(Quantity::unit))
        .containsExactly("m", "m", "ns", "MHz", "m/ns", "deg", "dB", "1", "m");
  }
}
