//! Cables: what carries the current round the piece.
//!
//! A cable here is a bundle of thin strands, each insulated from the others and transposed (litz), or bare. Its
//! resistance to alternating current is not that of its copper area: each strand carries eddy currents in the field of
//! all the others, and in the field of the neighboring turns.

use std::f64::consts::PI;
use std::sync::LazyLock;

use quantity::Sourced;
use serde::Deserialize;

use crate::MaterialError;
use crate::entry::{NumberEntry, RangedEntry};
use crate::find::{meant, nearest, plain};
use crate::metals::metal;
use crate::ranged::Ranged;

const VACUUM_PERMEABILITY_H_M: f64 = 1.256_637_062_12e-6;

/// How a cable gets rid of its heat.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Cooling {
    /// Air around it; it lies on the blanket.
    Air,
    /// A liquid pumped through the hose in which the strands lie.
    Liquid,
}

/// A kind of cable.
#[derive(Clone, Debug, PartialEq)]
pub struct Cable {
    /// The name that stands on a plan.
    pub name: String,
    /// What to know when using it.
    pub remark: String,
    /// Other names.
    pub aliases: Vec<String>,
    /// How it is cooled.
    pub cooling: Cooling,
    /// Outside diameters in mm in which it is common, ascending.
    pub outside_diameters_mm: Vec<f64>,
    /// The outside diameter in mm where the job states none.
    pub outside_diameter_mm: Sourced<f64>,
    /// Diameter in mm of the bundle of strands.
    pub bundle_diameter_mm: Sourced<f64>,
    /// Copper area in mm².
    pub copper_area_mm2: Sourced<f64>,
    /// Diameter in mm of one strand.
    pub strand_diameter_mm: Sourced<f64>,
    /// Loss beyond that of ideal strands, as a factor on the resistance: lay, imperfect transposition, joints.
    pub workmanship: Ranged,
    /// The highest temperature in °C of the cable itself (its copper and insulation).
    pub max_cable_temperature_c: Sourced<f64>,
    /// The highest temperature in °C of the piece for which it is used, over the blanket.
    pub max_work_temperature_c: Sourced<f64>,
    /// The highest current in A rms.
    pub max_current_a_rms: Sourced<f64>,
    /// The smallest bending radius in mm, to the center of the cable.
    pub min_bend_radius_mm: Sourced<f64>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct CableFile {
    name: String,
    remark: String,
    aliases: Vec<String>,
    cooling: Cooling,
    outside_diameters_mm: Vec<f64>,
    outside_diameter_mm: NumberEntry,
    bundle_diameter_mm: NumberEntry,
    copper_area_mm2: NumberEntry,
    strand_diameter_mm: NumberEntry,
    workmanship: RangedEntry,
    max_cable_temperature_c: NumberEntry,
    max_work_temperature_c: NumberEntry,
    max_current_a_rms: NumberEntry,
    min_bend_radius_mm: NumberEntry,
}

static CABLES: LazyLock<Vec<Cable>> = LazyLock::new(|| {
    [
        include_str!("../data/cables/air-cooled.toml"),
        include_str!("../data/cables/liquid-cooled.toml"),
    ]
    .iter()
    .map(|text| read(text))
    .collect()
});

/// All cables, in the order of the data files.
pub fn cables() -> &'static [Cable] {
    &CABLES
}

/// What only says that it is a cable and that it is cooled; how it is cooled tells one from another.
const SAYS_NOTHING: [&str; 12] = [
    "cable",
    "cables",
    "hose",
    "litz",
    "lead",
    "leads",
    "induction",
    "heating",
    "flexible",
    "cooled",
    "cooling",
    "by",
];

/// The cable of a name or alias, or of what tells it from the others: "air", "water cooled induction cable".
///
/// # Errors
/// [`MaterialError::Unknown`] with the nearest names.
pub fn cable(name: &str) -> Result<&'static Cable, MaterialError> {
    let wanted = plain(name);
    let found = cables().iter().find(|cable| {
        let mut names = std::iter::once(&cable.name).chain(&cable.aliases);
        names.any(|known| plain(known) == wanted)
    });
    let names = |cable: &'static Cable| {
        let all = std::iter::once(&cable.name).chain(&cable.aliases);
        all.map(String::as_str).collect()
    };
    let found = found.or_else(|| meant(name, cables(), names, &SAYS_NOTHING));
    found.ok_or_else(|| MaterialError::Unknown {
        kind: "cable".into(),
        asked: name.into(),
        suggestions: nearest(
            name,
            &cables()
                .iter()
                .map(|cable| cable.name.as_str())
                .collect::<Vec<_>>(),
        ),
    })
}

impl Cable {
    /// Resistance to direct current in ohm a meter of cable, at a temperature of the copper in °C.
    ///
    /// # Errors
    /// [`MaterialError::OutOfRange`] where the resistivity of copper is not known.
    pub fn direct_resistance_ohm_m(&self, copper_c: f64) -> Result<f64, MaterialError> {
        let resistivity_ohm_m = metal("copper")?.resistivity.at_c(copper_c)?;
        Ok(resistivity_ohm_m / (self.copper_area_mm2.value * 1e-6))
    }

    /// The factor by which resistance grows at a frequency in Hz, workmanship included.
    ///
    /// `outside_field_per_ampere_1_m` is the field strength at the cable made by everything but itself (neighboring
    /// turns, the piece), for one ampere in the cable; zero for a cable alone. Loss of thin round strands in a
    /// transverse field, valid while a strand is thinner than the skin depth: P = pi d⁴ (w mu0 H)² / (128 rho) a meter
    /// with the peak H (Sullivan 1999, eq. 1 and appendix); the bundle's own field grows linearly to I / (pi D).
    ///
    /// # Errors
    /// [`MaterialError::OutOfRange`] where the resistivity of copper is not known.
    pub fn alternating_factor(
        &self,
        frequency_hz: f64,
        outside_field_per_ampere_1_m: f64,
        copper_c: f64,
    ) -> Result<f64, MaterialError> {
        let resistivity_ohm_m = metal("copper")?.resistivity.at_c(copper_c)?;
        let strand_m = self.strand_diameter_mm.value * 1e-3;
        let strand_area_m2 = PI * strand_m * strand_m / 4.0;
        let copper_m2 = self.copper_area_mm2.value * 1e-6;
        let own_field_1_m = 1.0 / (PI * self.bundle_diameter_mm.value * 1e-3);
        let field_squared =
            0.5 * own_field_1_m * own_field_1_m + outside_field_per_ampere_1_m.powi(2);
        let flux_rate = 2.0 * PI * frequency_hz * VACUUM_PERMEABILITY_H_M;
        let strand_loss = PI * strand_m.powi(4) * flux_rate * flux_rate * field_squared
            / (128.0 * resistivity_ohm_m);
        // Peak current 1 A: loss is half the resistance; strands in parallel share the copper area.
        let added =
            2.0 * strand_loss * (copper_m2 / strand_area_m2) * copper_m2 / resistivity_ohm_m;
        Ok(self.workmanship.value * (1.0 + added))
    }
}

fn read(text: &str) -> Cable {
    let file: CableFile = toml::from_str(text).expect("the data files are read by tests");
    Cable {
        name: file.name,
        remark: file.remark,
        aliases: file.aliases,
        cooling: file.cooling,
        outside_diameters_mm: file.outside_diameters_mm,
        outside_diameter_mm: file.outside_diameter_mm.resolve(),
        bundle_diameter_mm: file.bundle_diameter_mm.resolve(),
        copper_area_mm2: file.copper_area_mm2.resolve(),
        strand_diameter_mm: file.strand_diameter_mm.resolve(),
        workmanship: file.workmanship.resolve(),
        max_cable_temperature_c: file.max_cable_temperature_c.resolve(),
        max_work_temperature_c: file.max_work_temperature_c.resolve(),
        max_current_a_rms: file.max_current_a_rms.resolve(),
        min_bend_radius_mm: file.min_bend_radius_mm.resolve(),
    }
}
