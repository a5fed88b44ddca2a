package org.slabnote.api.quantity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.slabnote.api.quantity.Quantities.GHz;
import static org.slabnote.api.quantity.Quantities.in;
import static org.slabnote.api.quantity.Quantities.m;
import static org.slabnote.api.quantity.Quantities.mm;
import static org.slabnote.api.quantity.Quantities.ns;
import static org.slabnote.api.quantity.Quantities.ratio;

import java.util.Locale;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class UnitsTest {

  @ParameterizedTest
  @CsvSource({
    "2 m, 2, m",
    "5 cm, 0.05, m",
    "16 mm, 0.016, m",
    "24 in, 0.6096, m",
    "1 ft, 0.3048, m",
    "0.1 ns, 0.1, ns",
    "98 ps, 0.098, ns",
    "900 MHz, 900, MHz",
    "2.6 GHz, 2600, MHz",
    "0.1 m/ns, 0.1, m/ns",
    "-45 deg, -45, deg",
    "6 dB, 6, dB",
    "25 %, 0.25, 1",
    "7, 7, 1",
    " 1e2  mm , 0.1, m"
  })
  void readsEveryUnit(String text, double value, String unit) {
    Quantity<?> q = Units.parse(text);
    assertThat(q.value()).isEqualTo(value);
    assertThat(q.unit()).isEqualTo(unit);
  }

  @Test
  void refusesWhatItCannotRead() {
    assertThatThrownBy(() -> Units.parse("fast"))
        .hasMessage("'fast' is no quantity; expected a number and a unit, as in 0.1 ns");
    assertThatThrownBy(() -> Units.parse("3 furlong"))
        .hasMessage(
            "'3 furlong': unit furlong is not known; expected one of m, cm, mm, in, ft, ns, ps, MHz,"
                + " GHz, m/ns, deg, dB, % or none");
    assertThatThrownBy(() -> Units.parse("NaN m"))
        .hasMessage("a quantity in m must be a finite number, not NaN");
  }

  @Test
  void anEmptyBoundIsOpen() {
    assertThat(Units.bound(" ")).isEmpty();
    assertThat(Units.bound("1 ns").orElseThrow()).isEqualTo(ns(1));
  }

  @Test
  void writesInTheUnitOfTheRange() {
    assertThat(Units.formatLike(ns(80), "0.1 ns")).isEqualTo("80 ns");
    assertThat(Units.formatLike(in(24), "1 in")).isEqualTo("24 in");
    assertThat(Units.formatLike(GHz(2.6), "1 GHz")).isEqualTo("2.6 GHz");
    assertThat(Units.formatLike(ratio(0.25), "10 %")).isEqualTo("25 %");
    assertThat(Units.formatLike(ratio(0.25), "1")).isEqualTo("0.25");
    assertThat(Units.format(m(2))).isEqualTo("2 m");
    assertThat(Units.format(mm(999.9))).isEqualTo("999.9 mm");
  }

  /** 2.0E23 prints otherwise on JDK 17 and 25 by Double.toString; by decimals it is the same. */
  @Test
  void writesNumbersTheSameEverywhere() {
    Locale before = Locale.getDefault();
    try {
      Locale.setDefault(Locale.forLanguageTag("de-DE"));
      assertThat(Units.plain(2.0E23, 6)).isEqualTo("200000000000000000000000");
      assertThat(Units.plain(1234567.0, 3)).isEqualTo("1230000");
      assertThat(Units.plain(0.1 + 0.2, 6)).isEqualTo("0.3");
      assertThat(Units.plain(-1e-7, 2)).isEqualTo("-0.0000001");
      assertThat(Units.plain(-0.0, 6)).isEqualTo("0");
      assertThat(Units.plain(Double.NEGATIVE_INFINITY, 6)).isEqualTo("-infinity");
      assertThat(Units.fixed(1234.5, 2)).isEqualTo("1234.50");
      assertThat(Units.fixed(-0.0004, 3)).isEqualTo("0.000");
      assertThat(Units.fixed(Double.NaN, 3)).isEqualTo("NaN");
      // half to even, of the exact binary value
      assertThat(Units.fixed(0.125, 2)).isEqualTo("0.12");
      assertThat(Units.fixed(0.375, 2)).isEqualTo("0.38");
    } finally {
      Locale.setDefault(before);
    }
  }
}
