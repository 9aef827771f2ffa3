//! What happens to heat on an outline.

use crate::table::Table;

/// Stefan-Boltzmann constant in W/(m2 K4), exact in the SI of 2019.
const STEFAN_BOLTZMANN_W_M2K4: f64 = 5.670_374_419e-8;

/// Zero degrees Celsius in kelvin.
const ZERO_CELSIUS_K: f64 = 273.15;

/// A law and the pieces of outline on which it holds.
#[derive(Clone, Debug)]
pub struct Boundary {
    /// Numbers of pieces in `Mesh::outlines`.
    pub pieces: Vec<u32>,
    /// What happens there.
    pub law: Law,
}

/// What happens to heat on a piece of outline; where no law is given nothing passes.
#[derive(Clone, Debug)]
pub enum Law {
    /// Nothing passes.
    Insulated,
    /// A temperature in degrees Celsius over time in seconds. Where two meet, the later boundary holds at the corner.
    Temperature(Table),
    /// Heat flux into the body in W/m2 over time in seconds.
    Flux(Table),
    /// Heat given off to the surroundings.
    Loss(Loss),
    /// A blanket, and what it gives off at its outside.
    Blanket(Blanket),
}

/// Heat that a surface gives off to its surroundings: the sum of what is given.
#[derive(Clone, Debug, Default)]
pub struct Loss {
    /// In proportion to the excess over an ambient temperature.
    pub convection: Option<Convection>,
    /// In W/m2 over the temperature of the surface in degrees Celsius.
    pub tabulated_w_m2: Option<Table>,
    /// By radiation.
    pub radiation: Option<Radiation>,
}

/// Newton's law of cooling.
#[derive(Clone, Copy, Debug)]
pub struct Convection {
    /// Coefficient in W/(m2 K).
    pub w_m2k: f64,
    /// Temperature of the air in degrees Celsius.
    pub ambient_c: f64,
}

/// Gray radiation to surroundings of one temperature.
#[derive(Clone, Copy, Debug)]
pub struct Radiation {
    /// Emissivity, 0 to 1.
    pub emissivity: f64,
    /// Temperature of the surroundings in degrees Celsius; [`super::Conditions`] may give another one for each point.
    pub ambient_c: f64,
}

/// A layer on a surface that conducts heat across only.
#[derive(Clone, Debug)]
pub struct Blanket {
    /// Thickness in meters.
    pub thickness_m: f64,
    /// Cells across it; 3 or 4 leave half a kelvin (docs/theory/heat.md, section 4).
    pub cells: usize,
    /// Conductivity in W/(m K) over temperature in degrees Celsius.
    pub conductivity_w_mk: Table,
    /// Density times specific heat in J/(m3 K).
    pub heat_capacity_j_m3k: f64,
    /// What its outside gives off.
    pub outside: Loss,
}

impl Loss {
    /// Heat given off in W/m2 and its slope in W/(m2 K), radiation going to the given ambient temperature.
    pub fn flux_and_slope(&self, surface_c: f64, radiation_ambient_c: f64) -> (f64, f64) {
        let (mut flux, mut slope) = (0.0, 0.0);
        if let Some(convection) = &self.convection {
            flux += convection.w_m2k * (surface_c - convection.ambient_c);
            slope += convection.w_m2k;
        }
        if let Some(table) = &self.tabulated_w_m2 {
            let (value, change) = table.value_and_slope(surface_c);
            flux += value;
            slope += change;
        }
        if let Some(radiation) = &self.radiation {
            let factor = STEFAN_BOLTZMANN_W_M2K4 * radiation.emissivity;
            let (hot_k, cold_k) = (
                surface_c + ZERO_CELSIUS_K,
                radiation_ambient_c + ZERO_CELSIUS_K,
            );
            flux += factor * (hot_k.powi(4) - cold_k.powi(4));
            slope += 4.0 * factor * hot_k.powi(3);
        }
        (flux, slope)
    }

    /// The ambient temperature that its radiation has unless told otherwise, 0 where it does not radiate.
    pub(super) fn ambient_c(&self) -> f64 {
        self.radiation.map_or(0.0, |radiation| radiation.ambient_c)
    }
}
