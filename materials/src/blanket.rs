//! Blankets: the insulation between the metal and the coil, and over the soak and gradient bands.

use std::sync::LazyLock;

use quantity::{Curve, Source, Sourced};
use serde::Deserialize;

use crate::MaterialError;
use crate::entry::{CurveEntry, NumberEntry, Spread};
use crate::find::{meant, nearest, plain};
use crate::metal::{CheckValue, Edge, Property};

/// An insulating blanket.
#[derive(Clone, Debug, PartialEq)]
pub struct Blanket {
    /// The name that stands on a plan.
    pub name: String,
    /// What it is for, what to know when handling it.
    pub remark: String,
    /// Other names.
    pub aliases: Vec<String>,
    /// Thermal conductivity in W/(m K) over the local temperature in °C.
    pub conductivity: Curve,
    /// Specific heat in J/(kg K).
    pub specific_heat_j_kgk: Sourced<f64>,
    /// Density as laid in kg/m³.
    pub density_kg_m3: Sourced<f64>,
    /// The highest temperature in °C of continuous use.
    pub limit_c: Sourced<f64>,
    /// Thicknesses in mm in which it is commonly sold.
    pub thicknesses_mm: Vec<f64>,
    /// A value from another source that the conductivity must meet.
    pub check: CheckValue,
    low: Curve,
    high: Curve,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct BlanketFile {
    name: String,
    remark: String,
    aliases: Vec<String>,
    conductivity: CurveEntry,
    specific_heat_j_kgk: NumberEntry,
    density_kg_m3: NumberEntry,
    limit_c: NumberEntry,
    thicknesses_mm: Vec<f64>,
}

static BLANKETS: LazyLock<Vec<Blanket>> = LazyLock::new(|| {
    [
        include_str!("../data/blankets/ceramic-fiber-128.toml"),
        include_str!("../data/blankets/ceramic-fiber-96.toml"),
        include_str!("../data/blankets/alkaline-earth-silicate-128.toml"),
        include_str!("../data/blankets/rock-wool-100.toml"),
        include_str!("../data/blankets/glass-needle-mat.toml"),
    ]
    .iter()
    .map(|text| read(text))
    .collect()
});

/// All blankets, in the order of the data files.
pub fn blankets() -> &'static [Blanket] {
    &BLANKETS
}

/// What only says that it is one.
const SAYS_NOTHING: [&str; 7] = [
    "blanket",
    "blankets",
    "mat",
    "insulation",
    "insulating",
    "density",
    "of",
];

/// The blanket of a name or alias, or of the same words however they stand: "8 lb ceramic fibre".
///
/// # Errors
/// [`MaterialError::Unknown`] with the nearest names.
pub fn blanket(name: &str) -> Result<&'static Blanket, MaterialError> {
    let wanted = plain(name);
    let found = blankets()
        .iter()
        .find(|blanket| blanket.names().any(|known| plain(known) == wanted));
    let names = |blanket: &'static Blanket| blanket.names().collect();
    let found = found.or_else(|| meant(name, blankets(), names, &SAYS_NOTHING));
    found.ok_or_else(|| MaterialError::Unknown {
        kind: "blanket".into(),
        asked: name.into(),
        suggestions: nearest(
            name,
            &blankets()
                .iter()
                .map(|blanket| blanket.name.as_str())
                .collect::<Vec<_>>(),
        ),
    })
}

impl Blanket {
    /// The same blanket with its conductivity as low or as high as it may be.
    pub fn at_edge(&self, edge: Edge) -> Blanket {
        let mut other = self.clone();
        other.conductivity = match edge {
            Edge::Low => self.low.clone(),
            Edge::High => self.high.clone(),
        };
        other
    }

    /// Every source that stands behind the blanket's numbers.
    pub fn sources(&self) -> Vec<&Source> {
        vec![
            &self.conductivity.source,
            &self.specific_heat_j_kgk.source,
            &self.density_kg_m3.source,
            &self.limit_c.source,
        ]
    }

    fn names(&self) -> impl Iterator<Item = &str> {
        std::iter::once(self.name.as_str()).chain(self.aliases.iter().map(String::as_str))
    }
}

fn read(text: &str) -> Blanket {
    let file: BlanketFile = toml::from_str(text).expect("the data files are read by tests");
    let Spread {
        chosen,
        low,
        high,
        check,
    } = file.conductivity.resolve(Property::Conductivity);
    Blanket {
        name: file.name,
        remark: file.remark,
        aliases: file.aliases,
        conductivity: chosen,
        specific_heat_j_kgk: file.specific_heat_j_kgk.resolve(),
        density_kg_m3: file.density_kg_m3.resolve(),
        limit_c: file.limit_c.resolve(),
        thicknesses_mm: file.thicknesses_mm,
        check,
        low,
        high,
    }
}
