package org.slabnote.methods.wave;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.apache.commons.math3.complex.Complex;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.slabnote.methods.Csv;

/** Against series by SciPy and mpmath (README beside the tables); printed to 12 digits. */
class CylinderReferenceTest {
  private static final double RADIUS = 0.01;

  @ParameterizedTest
  @CsvSource({
    "pec, 0, 6.25",
    "void_eps1_in_6p25, 1, 6.25",
    "void_eps1_in_8p0, 1, 8.0",
    "pvc_eps3_in_6p25, 3, 6.25",
    "pvc_eps3_in_8p0, 3, 8.0"
  })
  void backscatterMeetsTheSeries(String file, double eps, double host) {
    Csv t = Csv.read("backscatter_" + file + ".csv");
    for (int i = 0; i < t.size(); i++) {
      CylinderScattering c = scattering(eps, host, t.number(i, "k_a_1"));
      near(c.backscatter(Polarization.TM), t, i, "F_TM", 1e-9);
      near(c.backscatter(Polarization.TE), t, i, "F_TE", 1e-9);
    }
  }

  @ParameterizedTest
  @CsvSource({"pec, 0, 6.25", "void_eps1_in_6p25, 1, 6.25"})
  void patternMeetsTheSeries(String file, double eps, double host) {
    Csv t = Csv.read("pattern_" + file + ".csv");
    for (int i = 0; i < t.size(); i++) {
      CylinderScattering c = scattering(eps, host, t.number(i, "k_a_1"));
      double phi = StrictMath.toRadians(t.number(i, "phi_deg"));
      near(c.pattern(Polarization.TM, phi), t, i, "S_TM", 1e-9);
      near(c.pattern(Polarization.TE, phi), t, i, "S_TE", 1e-9);
    }
  }

  @ParameterizedTest
  @CsvSource({"pec, 0, 6.25", "void_eps1_in_6p25, 1, 6.25"})
  void lineSourceMeetsTheSeries(String file, double eps, double host) {
    Csv t = Csv.read("line_source_TM_" + file + ".csv");
    for (int i = 0; i < t.size(); i++) {
      CylinderScattering c = scattering(eps, host, t.number(i, "k_a_1"));
      double k = c.waveNumber();
      Complex field = c.lineSource(
          Polarization.TM,
          t.number(i, "k_rho_source_1") / k,
          t.number(i, "k_rho_observer_1") / k,
          StrictMath.toRadians(t.number(i, "phi_deg")));
      near(field, t, i, "H_scattered", 1e-9);
    }
  }

  /** 1e-10 on the complex ratio. */
  @Test
  void bistaticRatioMeetsTheSeries() {
    Csv t = Csv.read("bistatic_along_over_across.csv");
    for (int i = 0; i < t.size(); i++) {
      CylinderScattering c = CylinderScattering.of(
          target(t, i), t.number(i, "eps_host_1"), t.number(i, "frequency_MHz") / 1000);
      double[] p =
          c.pair(t.number(i, "separation_m"), t.number(i, "cover_m"), t.number(i, "offset_m"));
      Complex ratio = new Complex(p[2], p[3]).divide(new Complex(p[0], p[1]));
      near(ratio, t, i, "along_over_across", 1e-10);
    }
  }

  /** Against the boundary conditions at both radii, solved as a linear system by mpmath. */
  @Test
  void tubesAndCoatedBarsMeetTheBoundaryConditions() {
    Csv t = Csv.read("backscatter_tubes.csv");
    for (int i = 0; i < t.size(); i++) {
      double filling = t.number(i, "eps_filling_1");
      CylinderTarget target = CylinderTarget.tube(
          t.number(i, "outer_radius_m"),
          t.number(i, "inner_radius_m"),
          t.number(i, "eps_wall_1"),
          Double.isNaN(filling) ? Double.POSITIVE_INFINITY : filling);
      CylinderScattering c = CylinderScattering.of(
          target, t.number(i, "eps_host_1"), t.number(i, "frequency_MHz") / 1000);
      near(c.backscatter(Polarization.TM), t, i, "F_TM", 1e-11);
      near(c.backscatter(Polarization.TE), t, i, "F_TE", 1e-11);
    }
  }

  /** Without loss each order keeps its energy: Re a_n = -|a_n|^2, for every kind of target. */
  @Test
  void everyOrderKeepsItsEnergy() {
    CylinderTarget[] targets = {
      CylinderTarget.metal(0.02),
      CylinderTarget.dielectric(0.02, 80),
      CylinderTarget.tube(0.0302, 0.0262, 3, 1),
      CylinderTarget.tube(0.0134, 0.0105, 3, 80),
      CylinderTarget.tube(0.012, 0.008, 2.3, Double.POSITIVE_INFINITY)
    };
    for (CylinderTarget target : targets) {
      for (double f : new double[] {0.05, 0.7, 2.6, 6}) {
        CylinderScattering c = CylinderScattering.of(target, 8, f);
        for (int n = 0; n < 30; n++) {
          for (Polarization p : Polarization.values()) {
            Complex a = c.coefficient(p, n);
            double square = a.getReal() * a.getReal() + a.getImaginary() * a.getImaginary();
            assertThat(a.getReal()).isCloseTo(-square, within(1e-13 * square + 1e-200));
          }
        }
      }
    }
  }

  /** A tube whose wall is the host is its filling; one filled with its wall is solid. */
  @Test
  void tubesHaveTheirLimits() {
    equal(CylinderTarget.tube(0.03, 0.02, 8, 1), CylinderTarget.dielectric(0.02, 1));
    equal(CylinderTarget.tube(0.03, 0.02, 8, Double.POSITIVE_INFINITY), CylinderTarget.metal(0.02));
    equal(CylinderTarget.tube(0.03, 0.0299999999, 3, 1), CylinderTarget.dielectric(0.03, 1));
    equal(CylinderTarget.tube(0.03, 0.02, 3, 3.0000000001), CylinderTarget.dielectric(0.03, 3));
  }

  /** The far field of a line source near by tends to the plane wave's: (sqrt(2j/(pi k r)) e^-jkr)^2 F. */
  @Test
  void farAwayThePairSeesThePlaneWave() {
    CylinderScattering c = CylinderScattering.of(CylinderTarget.metal(0.008), 6, 1.5);
    double[] p = c.pair(0, 100, 0);
    Complex ratio = new Complex(p[2], p[3]).divide(new Complex(p[0], p[1]));
    Complex plane = c.backscatter(Polarization.TE).divide(c.backscatter(Polarization.TM));
    assertThat(ratio.subtract(plane).abs()).isLessThan(2e-3 * plane.abs());
  }

  @Test
  void refusesAntennasInsideTheCylinder() {
    CylinderScattering c = CylinderScattering.of(CylinderTarget.metal(0.008), 6, 1.5);
    assertThatThrownBy(() -> c.pair(0.06, 0, 0))
        .hasMessage(
            "cylinder scattering: separation = 0.06 m, cover = 0.0 m, offset = 0.0 m; expected 0 or"
                + " more, above 0, any");
    assertThatThrownBy(() -> c.lineSource(Polarization.TM, 0.007, 0.1, 0))
        .hasMessage(
            "cylinder scattering: distances 0.007 and 0.1 m from the axis; expected above the"
                + " radius, 0.008 m");
  }

  private static void equal(CylinderTarget one, CylinderTarget two) {
    for (double f : new double[] {0.3, 1.5, 4}) {
      for (Polarization p : Polarization.values()) {
        Complex a = CylinderScattering.of(one, 8, f).backscatter(p);
        Complex b = CylinderScattering.of(two, 8, f).backscatter(p);
        assertThat(a.subtract(b).abs()).isLessThan(1e-7 * b.abs());
      }
    }
  }

  static CylinderTarget target(Csv t, int row) {
    double radius = t.number(row, "diameter_m") / 2;
    return t.text(row, "kind_1").equals("metal")
        ? CylinderTarget.metal(radius)
        : CylinderTarget.dielectric(radius, t.number(row, "eps_target_1"));
  }

  private static CylinderScattering scattering(double eps, double host, double ka) {
    double frequency = ka * Propagation.LIGHT / (2 * Math.PI * Math.sqrt(host) * RADIUS);
    CylinderTarget target =
        eps == 0 ? CylinderTarget.metal(RADIUS) : CylinderTarget.dielectric(RADIUS, eps);
    return CylinderScattering.of(target, host, frequency);
  }

  private static void near(Complex value, Csv t, int row, String column, double relative) {
    Complex expected =
        new Complex(t.number(row, column + "_re_1"), t.number(row, column + "_im_1"));
    assertThat(value.subtract(expected).abs())
        .as("%s, row %d: %s, expected %s", column, row, value, expected)
        .isLessThan(relative * expected.abs() + 1e-15);
  }
}
