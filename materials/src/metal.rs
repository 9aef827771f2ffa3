//! Metals: what a plan must know of the piece that is heated.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use quantity::{Curve, Source, Sourced};
use serde::Deserialize;

use crate::MaterialError;
use crate::entry::{CurveEntry, NumberEntry, RangedEntry, Spread};
use crate::find::{iso_group, nearest, p_number, plain};
use crate::heat;
use crate::magnetization::{CurieLaw, Magnetization, MagnetizationForm};
use crate::ranged::Ranged;

/// A property that is a curve over temperature.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Property {
    /// Thermal conductivity in W/(m K).
    Conductivity,
    /// Specific heat in J/(kg K).
    SpecificHeat,
    /// Electrical resistivity in ohm m.
    Resistivity,
}

/// The lower or the upper end of what a property may be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Edge {
    /// As low as it may be.
    Low,
    /// As high as it may be.
    High,
}

/// A value from another source than the curve's own, which the curve must meet.
#[derive(Clone, Debug, PartialEq)]
pub struct CheckValue {
    /// The property that is checked.
    pub property: Property,
    /// The temperature in °C.
    pub at_c: f64,
    /// The value there, in the unit of the curve.
    pub value: f64,
    /// How near the curve must come, in percent.
    pub within_percent: f64,
    /// Where the value comes from.
    pub source: Source,
}

/// A metal.
#[derive(Clone, Debug, PartialEq)]
pub struct Metal {
    /// The name that stands on a plan.
    pub name: String,
    /// What the data hold for and what they leave out.
    pub remark: String,
    /// P-numbers of ASME IX that it covers ("P-15E").
    pub p_numbers: Vec<String>,
    /// Material groups of ISO/TR 15608 that it covers.
    pub iso_groups: Vec<String>,
    /// Other names and grade designations ("SA-335 P91").
    pub aliases: Vec<String>,
    /// The highest temperature in °C to which the data are meant to be used.
    pub covers_to_c: f64,
    /// Thermal conductivity in W/(m K).
    pub conductivity: Curve,
    /// Specific heat in J/(kg K).
    pub specific_heat: Curve,
    /// Density at 20 °C in kg/m³.
    pub density_kg_m3: Sourced<f64>,
    /// Electrical resistivity in ohm m.
    pub resistivity: Curve,
    /// Magnetization; `None` for a metal that is not magnetic.
    pub magnetization: Option<Magnetization>,
    /// Emissivity of the surface as it is when heated (0-1).
    pub emissivity: Ranged,
    /// Values from other sources that the curves must meet.
    pub checks: Vec<CheckValue>,
    edges: BTreeMap<Property, (Curve, Curve)>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct MetalFile {
    name: String,
    remark: String,
    p_numbers: Vec<String>,
    iso_groups: Vec<String>,
    aliases: Vec<String>,
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

static METALS: LazyLock<Vec<Metal>> = LazyLock::new(|| {
    [
        include_str!("../data/metals/carbon-steel.toml"),
        include_str!("../data/metals/0.5mo.toml"),
        include_str!("../data/metals/1.25cr-0.5mo.toml"),
        include_str!("../data/metals/2.25cr-1mo.toml"),
        include_str!("../data/metals/5cr-0.5mo.toml"),
        include_str!("../data/metals/9cr-1mo-v.toml"),
        include_str!("../data/metals/12cr.toml"),
        include_str!("../data/metals/austenitic.toml"),
        include_str!("../data/metals/duplex-2205.toml"),
        include_str!("../data/metals/alloy-625.toml"),
        include_str!("../data/metals/aluminum-6061.toml"),
        include_str!("../data/metals/aluminum-5083.toml"),
        include_str!("../data/metals/copper.toml"),
    ]
    .iter()
    .map(|text| read(text))
    .collect()
});

/// All metals, in the order of the data files.
pub fn metals() -> &'static [Metal] {
    &METALS
}

/// The metal of a name, alias, grade ("SA-335 P91"), P-number ("P-15E", "P-No. 5A") or group ("ISO 15608 group 6.4").
///
/// # Errors
/// [`MaterialError::Unknown`] with the nearest names; [`MaterialError::Ambiguous`] where a text such as "P1" can be a
/// P-number of one metal and a grade of another.
pub fn metal(name: &str) -> Result<&'static Metal, MaterialError> {
    if let Some(number) = p_number(name) {
        let number = format!("P-{number}");
        let found = metals()
            .iter()
            .find(|metal| metal.p_numbers.contains(&number));
        return found.ok_or_else(|| unknown_p_number(name));
    }
    if let Some(group) = iso_group(name) {
        let found = metals()
            .iter()
            .find(|metal| metal.iso_groups.contains(&group));
        return found.ok_or_else(|| unknown(name));
    }
    let named = metals().iter().find(|metal| metal.is_called(name));
    let numbered = metals()
        .iter()
        .find(|metal| metal.has_p_number_without_hyphen(name));
    match (named, numbered) {
        (Some(named), Some(numbered)) if named.name != numbered.name => {
            Err(ambiguous(name, named, numbered))
        }
        (Some(found), _) | (None, Some(found)) => Ok(found),
        (None, None) => Err(unknown(name)),
    }
}

fn unknown(name: &str) -> MaterialError {
    let names: Vec<&str> = metals().iter().flat_map(Metal::names).collect();
    let mut suggestions = nearest(name, &names);
    if suggestions.len() == names.len() {
        suggestions = metals().iter().map(|metal| metal.name.clone()).collect();
    }
    MaterialError::Unknown {
        kind: "metal".into(),
        asked: name.into(),
        suggestions,
    }
}

fn unknown_p_number(name: &str) -> MaterialError {
    MaterialError::Unknown {
        kind: "metal".into(),
        asked: name.into(),
        suggestions: metals()
            .iter()
            .flat_map(|metal| metal.p_numbers.clone())
            .collect(),
    }
}

fn ambiguous(asked: &str, named: &Metal, numbered: &Metal) -> MaterialError {
    let bare = plain(asked).to_uppercase();
    MaterialError::Ambiguous {
        asked: asked.into(),
        meanings: vec![
            format!("grade {bare} ({})", named.name),
            format!("P-No. {} ({})", &bare[1..], numbered.name),
        ],
    }
}

impl Property {
    /// What a reader calls it.
    pub fn words(self) -> &'static str {
        match self {
            Property::Conductivity => "thermal conductivity",
            Property::SpecificHeat => "specific heat",
            Property::Resistivity => "electrical resistivity",
        }
    }
}

impl Metal {
    /// Heat in J/m³ above 20 °C, with the density of the cold metal; exact integral at each of its points.
    pub fn heat_content(&self) -> Curve {
        heat::heat_content(&self.specific_heat, self.density_kg_m3.value)
    }

    /// The curve of a property.
    pub fn curve(&self, property: Property) -> &Curve {
        match property {
            Property::Conductivity => &self.conductivity,
            Property::SpecificHeat => &self.specific_heat,
            Property::Resistivity => &self.resistivity,
        }
    }

    /// The same metal with one property as low or as high as it may be, to state what that does to a plan.
    pub fn at_edge(&self, property: Property, edge: Edge) -> Metal {
        let mut other = self.clone();
        if let Some((low, high)) = self.edges.get(&property) {
            let curve = match edge {
                Edge::Low => low.clone(),
                Edge::High => high.clone(),
            };
            match property {
                Property::Conductivity => other.conductivity = curve,
                Property::SpecificHeat => other.specific_heat = curve,
                Property::Resistivity => other.resistivity = curve,
            }
        }
        other
    }

    /// The temperatures in °C between which every curve holds.
    pub fn range_c(&self) -> (f64, f64) {
        let ranges =
            [&self.conductivity, &self.specific_heat, &self.resistivity].map(Curve::range_c);
        let first = ranges
            .iter()
            .fold(f64::NEG_INFINITY, |most, range| most.max(range.0));
        let last = ranges
            .iter()
            .fold(f64::INFINITY, |least, range| least.min(range.1));
        (first, last)
    }

    /// Every source that stands behind the metal's numbers.
    pub fn sources(&self) -> Vec<&Source> {
        let mut sources = vec![
            &self.conductivity.source,
            &self.specific_heat.source,
            &self.resistivity.source,
            &self.density_kg_m3.source,
            &self.emissivity.source,
        ];
        if let Some(magnetization) = &self.magnetization {
            sources.extend(magnetization.numbers().map(|number| &number.source));
        }
        sources
    }

    fn names(&self) -> impl Iterator<Item = &str> {
        std::iter::once(self.name.as_str()).chain(self.aliases.iter().map(String::as_str))
    }

    fn is_called(&self, name: &str) -> bool {
        let wanted = plain(name);
        self.names().any(|known| plain(known) == wanted)
    }

    fn has_p_number_without_hyphen(&self, name: &str) -> bool {
        let wanted = plain(name);
        self.p_numbers.iter().any(|number| plain(number) == wanted)
    }
}

fn read(text: &str) -> Metal {
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
