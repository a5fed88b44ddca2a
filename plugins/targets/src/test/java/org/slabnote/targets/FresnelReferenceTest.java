package org.slabnote.targets;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvFileSource;

/** Against fresnel_zone.csv (mpmath), see README.md beside it. Tolerance: its 13 digits. */
class FresnelReferenceTest {
  @ParameterizedTest
  @CsvFileSource(resources = "fresnel_zone.csv", numLinesToSkip = 1)
  void followsTheExactRadius(
      double frequency, double velocity, double depth, double wavelength, double radius) {
    assertThat(Sight.fresnel(wavelength, depth)).isCloseTo(radius, within(1e-12));
  }
}
