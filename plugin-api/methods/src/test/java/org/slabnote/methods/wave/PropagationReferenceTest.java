package org.slabnote.methods.wave;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.apache.commons.math3.complex.Complex;
import org.junit.jupiter.api.Test;
import org.slabnote.methods.Csv;

/** Against mpmath (README beside the tables), 1e-9 relative: printed to 11 digits or more. */
class PropagationReferenceTest {

  @Test
  void lossyWaveMeetsMpmath() {
    Csv t = Csv.read("lossy_dielectric.csv");
    for (int i = 0; i < t.size(); i++) {
      Propagation.Wave wave = Propagation.wave(
          t.number(i, "eps_r_1"), t.number(i, "sigma_S_per_m"), t.number(i, "f_MHz") / 1000);
      near(t, i, "alpha_Np_per_m", wave.attenuation());
      near(t, i, "attenuation_one_way_dB_per_m", wave.decibels());
      near(t, i, "beta_rad_per_m", wave.phaseConstant());
      near(t, i, "phase_velocity_m_per_ns", wave.velocity());
      near(t, i, "wavelength_m", wave.wavelength());
      near(t, i, "impedance_re_ohm", wave.impedance().getReal());
      near(t, i, "impedance_im_ohm", wave.impedance().getImaginary());
    }
  }

  @Test
  void normalReflectionMeetsMpmath() {
    Csv t = Csv.read("fresnel_normal.csv");
    for (int i = 0; i < t.size(); i++) {
      Complex r = Reflection.normal(
          t.number(i, "eps_r_upper_1"),
          t.number(i, "sigma_upper_S_per_m"),
          t.number(i, "eps_r_lower_1"),
          t.number(i, "sigma_lower_S_per_m"),
          t.number(i, "f_MHz") / 1000);
      assertThat(r.getReal()).isCloseTo(t.number(i, "r_re_1"), within(1e-10));
      assertThat(r.getImaginary()).isCloseTo(t.number(i, "r_im_1"), within(1e-10));
    }
  }

  @Test
  void plateReflectionMeetsTheTable() {
    Csv t = Csv.read("plate_reflection.csv");
    for (int i = 0; i < t.size(); i++) {
      double eps = Reflection.plate(t.number(i, "A0_over_Ap_1"), 1);
      near(t, i, "eps_r_1", eps);
      near(t, i, "velocity_m_per_ns", Propagation.velocity(eps));
    }
    Csv two = Csv.read("plate_reflection_second_layer.csv");
    for (int i = 0; i < two.size(); i++) {
      near(
          two,
          i,
          "eps_layer2_from_amplitudes_1",
          Reflection.plateSecondLayer(
              two.number(i, "eps_layer1_1"),
              two.number(i, "A0_over_Ap_1"),
              two.number(i, "A1_over_Ap_1"),
              1));
    }
  }

  @Test
  void mixturesMeetTheTables() {
    Csv t = Csv.read("topp_moisture.csv");
    for (int i = 0; i < t.size(); i++) {
      near(t, i, "theta_m3_per_m3", Mixing.toppMoisture(t.number(i, "eps_r_1")));
    }
    Csv e = Csv.read("topp_permittivity.csv");
    for (int i = 0; i < e.size(); i++) {
      near(e, i, "eps_r_1", Mixing.toppPermittivity(e.number(i, "theta_m3_per_m3")));
    }
    Csv c = Csv.read("crim_mix.csv");
    for (int i = 0; i < c.size(); i++) {
      near(
          c,
          i,
          "eps_mix_1",
          Mixing.crim(
              c.number(i, "porosity_1"),
              c.number(i, "water_saturation_1"),
              c.number(i, "eps_solid_1"),
              c.number(i, "eps_water_1"),
              c.number(i, "eps_air_1")));
    }
  }

  @Test
  void fresnelZoneMeetsTheTable() {
    Csv t = Csv.read("fresnel_zone.csv");
    for (int i = 0; i < t.size(); i++) {
      double wavelength = t.number(i, "velocity_m_per_ns") / t.number(i, "f_MHz") * 1000;
      near(t, i, "radius_exact_m", Propagation.fresnelRadius(t.number(i, "depth_m"), wavelength));
    }
  }

  @Test
  void refusesWhatCannotBe() {
    assertThatThrownBy(() -> Reflection.plate(1.2, 1))
        .hasMessage(
            "plate reflection: surface / plate = 1.2; expected 0 up to, not including, 1. Compare"
                + " echoes of one antenna height, and the same phase of both");
    assertThatThrownBy(() -> Propagation.velocity(0.5))
        .hasMessage("propagation: permittivity = 0.5; expected 1 or more");
    assertThatThrownBy(() -> Propagation.permittivity(0.31))
        .hasMessage("propagation: velocity = 0.31 m/ns; expected above 0, up to 0.299792458");
  }

  private static void near(Csv table, int row, String column, double value) {
    double expected = table.number(row, column);
    assertThat(value)
        .as("%s, row %d", column, row)
        .isCloseTo(expected, within(1e-9 * Math.abs(expected) + 1e-15));
  }
}
