//! The file of a metal, read into a [`Metal`].

use std::collections::BTreeMap;

use serde::Deserialize;

use crate::entry::{CurveEntry, NumberEntry, RangedEntry, Spread};
use crate::heat;
use crate::magnetization::{CurieLaw, Magnetization, MagnetizationForm};
use crate::metal::{Metal, Property};

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct MetalFile {
    name: String,
    remark: String,
    p_numbers: Vec<String>,
    iso_groups: Vec<String>,
    aliases: Vec<String>,
    #[serde(default)]
    unlike_p_number: Vec<String>,
    covers_to_c: f64,
    conductivity: CurveEntry,
    specific_heat: CurveEntry,
    resistivity: CurveEntry,
    density_kg_m3: NumberEntry,
    emissivity: RangedEntry,
    magnetization: Option<MagnetizationEntry>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct MagnetizationEntry {
    form: MagnetizationForm,
    saturation_t: RangedEntry,
    initial_permeability: RangedEntry,
    coercivity_a_m: RangedEntry,
    curie_point_c: RangedEntry,
    curie_exponent: RangedEntry,
}

/// A metal from the text of its file.
pub(crate) fn read(text: &str) -> Metal {
    let file: MetalFile = toml::from_str(text).expect("the data files are read by tests");
    let mut edges = BTreeMap::new();
    let mut checks = Vec::new();
    let mut keep = |entry: CurveEntry, property: Property| {
        let Spread {
            chosen,
            low,
            high,
            check,
        } = entry.resolve(property);
        edges.insert(property, (low, high));
        checks.push(check);
        chosen
    };
    Metal {
        conductivity: keep(file.conductivity, Property::Conductivity),
        specific_heat: keep(file.specific_heat, Property::SpecificHeat),
        resistivity: keep(file.resistivity, Property::Resistivity),
        name: file.name,
        remark: file.remark,
        p_numbers: file.p_numbers,
        iso_groups: file.iso_groups,
        aliases: file.aliases,
        unlike_p_number: file.unlike_p_number,
        covers_to_c: file.covers_to_c,
        density_kg_m3: file.density_kg_m3.resolve(),
        magnetization: file.magnetization.as_ref().map(MagnetizationEntry::resolve),
        emissivity: file.emissivity.resolve(),
        checks,
        edges,
    }
}

impl MagnetizationEntry {
    fn resolve(&self) -> Magnetization {
        Magnetization {
            form: self.form,
            saturation_t: self.saturation_t.resolve(),
            initial_permeability: self.initial_permeability.resolve(),
            coercivity_a_m: self.coercivity_a_m.resolve(),
            curie: CurieLaw {
                point_c: self.curie_point_c.resolve(),
                exponent: self.curie_exponent.resolve(),
                reference_c: heat::REFERENCE_C,
            },
        }
    }
}
