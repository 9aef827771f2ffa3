//! Magnetization of a metal: flux density over field strength, its fall with temperature, and the loop's loss.

use crate::ranged::Ranged;

/// Permeability of vacuum in H/m (CODATA 2018: 1.25663706212e-6).
const VACUUM_PERMEABILITY_H_M: f64 = 1.256_637_062_12e-6;

/// The shape of an anhysteretic curve.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum MagnetizationForm {
    /// B = mu0 H + Bs H / (Hk + |H|), Hk = Bs / (mu0 (mu_i - 1)) (Fröhlich 1881; Kennelly 1891).
    Froehlich,
    /// B = mu0 H + (2 Bs / pi) atan(pi mu0 (mu_i - 1) H / (2 Bs)).
    Arctan,
}

/// How permeability falls with temperature: mu = 1 + (mu_20 - 1) max(0, 1 - ((T - 20 °C) / (Tc - 20 °C))^n).
#[derive(Clone, Debug, PartialEq)]
pub struct CurieLaw {
    /// The Curie point Tc in °C.
    pub point_c: Ranged,
    /// The exponent n.
    pub exponent: Ranged,
    /// The temperature at which the curve is given, in °C.
    pub reference_c: f64,
}

/// The magnetization curve of a metal at 20 °C and its fall to the Curie point.
#[derive(Clone, Debug, PartialEq)]
pub struct Magnetization {
    /// The shape of the curve.
    pub form: MagnetizationForm,
    /// Saturation polarization Bs in T.
    pub saturation_t: Ranged,
    /// Relative permeability at vanishing field, of the curve without hysteresis.
    pub initial_permeability: Ranged,
    /// Coercive field in A/m: sets the loop's loss.
    pub coercivity_a_m: Ranged,
    /// The fall with temperature.
    pub curie: CurieLaw,
}

impl CurieLaw {
    /// The part of (mu - 1) that is left at a temperature in °C: 1 at and below the reference, 0 from the Curie point.
    pub fn part_left(&self, temperature_c: f64) -> f64 {
        let reached = (temperature_c - self.reference_c) / (self.point_c.value - self.reference_c);
        1.0 - libm::pow(reached.clamp(0.0, 1.0), self.exponent.value)
    }
}

impl Magnetization {
    /// Its numbers: saturation, permeability, coercivity, Curie point and exponent.
    pub fn numbers(&self) -> [&Ranged; 5] {
        [
            &self.saturation_t,
            &self.initial_permeability,
            &self.coercivity_a_m,
            &self.curie.point_c,
            &self.curie.exponent,
        ]
    }

    /// Flux density in T at 20 °C for a field strength in A/m of either sign.
    pub fn flux_density_t(&self, h_a_m: f64) -> f64 {
        VACUUM_PERMEABILITY_H_M * h_a_m + self.polarization_t(h_a_m)
    }

    /// Flux density in T at a field strength in A/m and a temperature in °C.
    pub fn flux_density_at_t(&self, h_a_m: f64, temperature_c: f64) -> f64 {
        VACUUM_PERMEABILITY_H_M * h_a_m
            + self.polarization_t(h_a_m) * self.curie.part_left(temperature_c)
    }

    /// Polarization B - mu0 H in T at 20 °C.
    pub fn polarization_t(&self, h_a_m: f64) -> f64 {
        let bs = self.saturation_t.value;
        let knee_a_m = bs / (VACUUM_PERMEABILITY_H_M * (self.initial_permeability.value - 1.0));
        match self.form {
            MagnetizationForm::Froehlich => bs * h_a_m / (knee_a_m + h_a_m.abs()),
            MagnetizationForm::Arctan => {
                let half_pi = std::f64::consts::FRAC_PI_2;
                bs / half_pi * libm::atan(half_pi * h_a_m / knee_a_m)
            }
        }
    }

    /// Heat of one hysteresis loop in J/m³ between ± a peak field in A/m, at a temperature in °C; an estimate.
    ///
    /// 4 Hc J(H) for a full loop; with H² / (H² + Hc²) it falls to the cubic law of weak fields (Rayleigh 1887).
    pub fn loop_heat_j_m3(&self, h_peak_a_m: f64, temperature_c: f64) -> f64 {
        let hc = self.coercivity_a_m.value;
        let h = h_peak_a_m.abs();
        let open = h * h / (h * h + hc * hc);
        4.0 * hc * self.polarization_t(h) * open * self.curie.part_left(temperature_c)
    }

    /// The angle in rad by which B lags H so that pi B H sin(angle) is the heat of one loop; an estimate.
    pub fn loss_angle_rad(&self, h_peak_a_m: f64, temperature_c: f64) -> f64 {
        let h = h_peak_a_m.abs();
        if h == 0.0 {
            return 0.0;
        }
        let b = self.flux_density_at_t(h, temperature_c);
        let sine = self.loop_heat_j_m3(h, temperature_c) / (std::f64::consts::PI * b * h);
        libm::asin(sine.clamp(0.0, 1.0))
    }
}
