//! Metals: what a plan must know of the piece that is heated.

use std::collections::BTreeMap;

use quantity::{Curve, Source, Sourced};

use crate::find::plain;
use crate::heat;
use crate::magnetization::Magnetization;
use crate::ranged::Ranged;
use crate::spelling::{grade, without_standard};

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
    /// Those of them that have another P-number than the metal, or none.
    pub unlike_p_number: Vec<String>,
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
    pub(crate) edges: BTreeMap<Property, (Curve, Curve)>,
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

    /// The P-numbers of the metal where it is called by this name; none for a grade that has another one, or none.
    pub fn p_numbers_of(&self, name: &str) -> &[String] {
        let is_unlike = |known: &String| plain(known) == plain(name) || is_graded(known, name);
        match self.unlike_p_number.iter().any(is_unlike) {
            true => &[],
            false => &self.p_numbers,
        }
    }

    pub(crate) fn names(&self) -> impl Iterator<Item = &str> {
        std::iter::once(self.name.as_str()).chain(self.aliases.iter().map(String::as_str))
    }

    pub(crate) fn is_called(&self, name: &str) -> bool {
        let wanted = plain(name);
        self.names().any(|known| plain(known) == wanted)
    }

    /// Whether a name as people write it is a grade of the metal.
    pub(crate) fn is_graded(&self, name: &str) -> bool {
        self.names().any(|known| is_graded(known, name))
    }

    pub(crate) fn has_p_number_without_hyphen(&self, name: &str) -> bool {
        let wanted = plain(name);
        self.p_numbers.iter().any(|number| plain(number) == wanted)
    }
}

fn is_graded(known: &str, name: &str) -> bool {
    let known = grade(known);
    known == grade(name) || without_standard(name).is_some_and(|alone| known == alone)
}
