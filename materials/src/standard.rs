//! Properties that a standard or reference work defines for a class of metals, as dense curves.

use std::sync::LazyLock;

use quantity::Curve;
use serde::Deserialize;

use crate::MaterialError;
use crate::find::nearest;
use crate::metal::Property;
use crate::sources::SourceEntry;

/// Spacing of the points of a curve made from a formula.
const STEP_K: f64 = 1.0;

/// Spacing where the formula has a pole nearby: keeps the heat content of the 735 °C peak to better than 0.01 %.
const FINE_STEP_K: f64 = 0.25;

/// How near to a pole the fine spacing is used.
const FINE_WITHIN_K: f64 = 40.0;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct StandardFile {
    name: String,
    conductivity: Option<Formula>,
    specific_heat: Option<Formula>,
}

/// Pieces of a formula, or points.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Formula {
    unit: String,
    source: SourceEntry,
    #[serde(default)]
    pieces: Vec<Piece>,
    #[serde(default)]
    points: Vec<(f64, f64)>,
}

/// A piece of a formula: a polynomial in θ (°C), and where given a pole term pole_weight / (θ - pole_c).
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Piece {
    from_c: f64,
    to_c: f64,
    polynomial: Vec<f64>,
    pole_c: Option<f64>,
    pole_weight: Option<f64>,
}

static STANDARDS: LazyLock<Vec<StandardFile>> = LazyLock::new(|| {
    [
        include_str!("../data/standards/en-1993-1-2-carbon-steel.toml"),
        include_str!("../data/standards/en-1993-1-2-stainless-steel.toml"),
        include_str!("../data/standards/en-1999-1-2-aluminum.toml"),
        include_str!("../data/standards/janaf-alpha-iron.toml"),
    ]
    .iter()
    .map(|text| toml::from_str(text).expect("the data files are read by tests"))
    .collect()
});

/// The names that [`standard`] knows.
pub fn standard_names() -> Vec<&'static str> {
    STANDARDS.iter().map(|file| file.name.as_str()).collect()
}

/// A property as a standard defines it, over the range of its formula ("EN 1993-1-2 carbon steel": 20-1200 °C).
///
/// # Errors
/// [`MaterialError::Unknown`] for a name that is not in [`standard_names`], [`MaterialError::NotInStandard`] where the
/// standard does not define the property.
pub fn standard(name: &str, property: Property) -> Result<Curve, MaterialError> {
    let file = file_of(name)?;
    let formula = formula_of(file, property)?;
    let (from_c, to_c) = formula.range_c();
    Ok(Curve {
        property: format!("{} of {}", property.words(), file.name),
        unit: formula.unit.clone(),
        points: formula.points(from_c, to_c),
        source: formula.source.resolve(),
    })
}

/// The points of a formula of the standards over a range that may continue the first and last piece.
pub(crate) fn standard_between(
    name: &str,
    property: Property,
    from_c: f64,
    to_c: f64,
) -> Vec<(f64, f64)> {
    let formula = file_of(name).and_then(|file| formula_of(file, property));
    formula
        .expect("the data files name known standards")
        .points(from_c, to_c)
}

fn file_of(name: &str) -> Result<&'static StandardFile, MaterialError> {
    let wanted = name.trim();
    let found = STANDARDS
        .iter()
        .find(|file| file.name.eq_ignore_ascii_case(wanted));
    found.ok_or_else(|| MaterialError::Unknown {
        kind: "standard".into(),
        asked: name.into(),
        suggestions: nearest(name, &standard_names()),
    })
}

fn formula_of(file: &StandardFile, property: Property) -> Result<&Formula, MaterialError> {
    let given = [
        (Property::Conductivity, &file.conductivity),
        (Property::SpecificHeat, &file.specific_heat),
    ];
    let found = given.iter().find(|(known, _)| *known == property);
    found
        .and_then(|(_, formula)| formula.as_ref())
        .ok_or_else(|| MaterialError::NotInStandard {
            standard: file.name.clone(),
            asked: property.words().into(),
            known: given
                .iter()
                .filter(|(_, formula)| formula.is_some())
                .map(|(known, _)| known.words().to_string())
                .collect(),
        })
}

impl Formula {
    fn range_c(&self) -> (f64, f64) {
        match (self.points.first(), self.points.last()) {
            (Some(first), Some(last)) => (first.0, last.0),
            _ => (
                self.pieces[0].from_c,
                self.pieces[self.pieces.len() - 1].to_c,
            ),
        }
    }

    fn points(&self, from_c: f64, to_c: f64) -> Vec<(f64, f64)> {
        if !self.points.is_empty() {
            assert_eq!((from_c, to_c), self.range_c(), "a table is used as it is");
            return self.points.clone();
        }
        let mut points = Vec::new();
        let mut at_c = from_c;
        while at_c < to_c {
            points.push((at_c, self.at_c(at_c)));
            at_c = self.next_c(at_c);
        }
        points.push((to_c, self.at_c(to_c)));
        points
    }

    /// The next temperature of the grid: whole steps, so that borders of pieces (whole degrees) are points.
    fn next_c(&self, at_c: f64) -> f64 {
        let mut poles = self.pieces.iter().filter_map(|piece| piece.pole_c);
        let fine = poles.any(|pole_c| (at_c - pole_c).abs() < FINE_WITHIN_K);
        let step = if fine { FINE_STEP_K } else { STEP_K };
        (libm::floor(at_c / step) + 1.0) * step
    }

    fn at_c(&self, at_c: f64) -> f64 {
        let last = self.pieces.len() - 1;
        let piece = self.pieces.iter().find(|piece| at_c <= piece.to_c);
        piece.unwrap_or(&self.pieces[last]).at_c(at_c)
    }
}

impl Piece {
    fn at_c(&self, at_c: f64) -> f64 {
        let polynomial = self
            .polynomial
            .iter()
            .rev()
            .fold(0.0, |sum, factor| sum * at_c + factor);
        match (self.pole_c, self.pole_weight) {
            (Some(pole_c), Some(weight)) => polynomial + weight / (at_c - pole_c),
            _ => polynomial,
        }
    }
}
