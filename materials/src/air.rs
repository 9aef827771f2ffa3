//! Air at one atmosphere, for natural convection: properties at the film temperature.

use std::sync::LazyLock;

use quantity::{Curve, Source};
use serde::Deserialize;

use crate::sources::SourceEntry;

/// The zero of the Celsius scale in kelvins (ITS-90).
const ZERO_CELSIUS_K: f64 = 273.15;

/// Spacing of the curves: the properties bend so slowly that straight lines between are good to 0.01 %.
const STEP_K: f64 = 5.0;

/// Air at one atmosphere as curves over the film temperature in °C.
#[derive(Clone, Debug, PartialEq)]
pub struct Air {
    /// Thermal conductivity in W/(m K).
    pub conductivity: Curve,
    /// Kinematic viscosity in m²/s.
    pub kinematic_viscosity: Curve,
    /// Prandtl number.
    pub prandtl: Curve,
    /// Thermal expansion in 1/K (of an ideal gas: one over the absolute temperature).
    pub expansion: Curve,
    /// Density in kg/m³.
    pub density: Curve,
    /// Specific heat at constant pressure in J/(kg K).
    pub specific_heat: Curve,
    /// Values from another source that the curves must meet.
    pub checks: Vec<AirCheck>,
}

/// Values of air from another source.
#[derive(Clone, Debug, PartialEq)]
pub struct AirCheck {
    /// The temperature in °C.
    pub at_c: f64,
    /// Thermal conductivity in W/(m K).
    pub conductivity_w_mk: f64,
    /// Kinematic viscosity in m²/s at one atmosphere.
    pub kinematic_viscosity_m2_s: f64,
    /// Prandtl number.
    pub prandtl: f64,
    /// How near the curves must come, in percent.
    pub within_percent: f64,
    /// Where the values come from.
    pub source: Source,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct AirCheckEntry {
    at_c: f64,
    conductivity_w_mk: f64,
    kinematic_viscosity_m2_s: f64,
    prandtl: f64,
    within_percent: f64,
    source: SourceEntry,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct AirFile {
    from_c: f64,
    to_c: f64,
    pressure_pa: f64,
    gas_constant_j_kgk: f64,
    viscosity: Viscosity,
    conductivity: Conductivity,
    specific_heat: SpecificHeat,
    checks: Vec<AirCheckEntry>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Viscosity {
    beta_kg_m_s_k05: f64,
    sutherland_k: f64,
    source: SourceEntry,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Conductivity {
    factor_w_m_k15: f64,
    constant_k: f64,
    decade_k: f64,
    source: SourceEntry,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct SpecificHeat {
    over_gas_constant: Vec<f64>,
    source: SourceEntry,
}

static AIR: LazyLock<Air> = LazyLock::new(|| {
    let file: AirFile =
        toml::from_str(include_str!("../data/air.toml")).expect("the data files are read by tests");
    file.air()
});

/// Air at one atmosphere.
pub fn air() -> &'static Air {
    &AIR
}

impl AirCheckEntry {
    fn resolve(&self) -> AirCheck {
        AirCheck {
            at_c: self.at_c,
            conductivity_w_mk: self.conductivity_w_mk,
            kinematic_viscosity_m2_s: self.kinematic_viscosity_m2_s,
            prandtl: self.prandtl,
            within_percent: self.within_percent,
            source: self.source.resolve(),
        }
    }
}

impl AirFile {
    fn air(&self) -> Air {
        let viscosity = self.viscosity.source.resolve();
        let conductivity = self.conductivity.source.resolve();
        let specific_heat = self.specific_heat.source.resolve();
        Air {
            conductivity: self.curve(
                "thermal conductivity",
                "W/(m K)",
                conductivity.clone(),
                |k| self.conductivity_w_mk(k),
            ),
            kinematic_viscosity: self.curve(
                "kinematic viscosity",
                "m2/s",
                viscosity.clone(),
                |k| self.viscosity_pa_s(k) / self.density_kg_m3(k),
            ),
            prandtl: self.curve("Prandtl number", "1", conductivity, |k| {
                self.viscosity_pa_s(k) * self.specific_heat_j_kgk(k) / self.conductivity_w_mk(k)
            }),
            expansion: self.curve("thermal expansion", "1/K", viscosity.clone(), |k| 1.0 / k),
            density: self.curve("density", "kg/m3", viscosity, |k| self.density_kg_m3(k)),
            specific_heat: self.curve("specific heat", "J/(kg K)", specific_heat, |k| {
                self.specific_heat_j_kgk(k)
            }),
            checks: self.checks.iter().map(AirCheckEntry::resolve).collect(),
        }
    }

    fn curve(
        &self,
        property: &str,
        unit: &str,
        source: Source,
        at_k: impl Fn(f64) -> f64,
    ) -> Curve {
        let mut points = Vec::new();
        let mut at_c = self.from_c;
        while at_c <= self.to_c {
            points.push((at_c, at_k(at_c + ZERO_CELSIUS_K)));
            at_c += STEP_K;
        }
        Curve {
            property: format!("{property} of air"),
            unit: unit.into(),
            points,
            source,
        }
    }

    fn density_kg_m3(&self, absolute_k: f64) -> f64 {
        self.pressure_pa / (self.gas_constant_j_kgk * absolute_k)
    }

    /// Sutherland's formula (U.S. Standard Atmosphere 1976, eq. 51).
    fn viscosity_pa_s(&self, absolute_k: f64) -> f64 {
        self.viscosity.beta_kg_m_s_k05 * libm::pow(absolute_k, 1.5)
            / (absolute_k + self.viscosity.sutherland_k)
    }

    /// U.S. Standard Atmosphere 1976, eq. 53.
    fn conductivity_w_mk(&self, absolute_k: f64) -> f64 {
        let law = &self.conductivity;
        let below = absolute_k + law.constant_k * libm::pow(10.0, -law.decade_k / absolute_k);
        law.factor_w_m_k15 * libm::pow(absolute_k, 1.5) / below
    }

    fn specific_heat_j_kgk(&self, absolute_k: f64) -> f64 {
        let factors = self.specific_heat.over_gas_constant.iter().rev();
        self.gas_constant_j_kgk * factors.fold(0.0, |sum, factor| sum * absolute_k + factor)
    }
}
