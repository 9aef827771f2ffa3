//! How the data files write curves and numbers, and how these become [`Curve`]s.

use quantity::{Curve, Source, Sourced};
use serde::Deserialize;

use crate::metal::{CheckValue, Property};
use crate::ranged::Ranged;
use crate::sources::SourceEntry;
use crate::standard::standard_between;

/// A curve: points, or a formula of a standard; its spread; and an independent check value.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct CurveEntry {
    pub unit: String,
    pub points: Option<Vec<(f64, f64)>>,
    pub standard: Option<StandardEntry>,
    pub source: SourceEntry,
    pub low: Option<Vec<(f64, f64)>>,
    pub high: Option<Vec<(f64, f64)>>,
    pub spread_percent: Option<f64>,
    pub spread_note: Option<String>,
    pub check: CheckEntry,
}

/// A formula of a standard and the range in which it is used.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct StandardEntry {
    pub name: String,
    pub from_c: f64,
    pub to_c: f64,
}

/// A value from another source than the curve's.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct CheckEntry {
    pub at_c: f64,
    pub value: f64,
    pub within_percent: f64,
    pub source: SourceEntry,
}

/// A number with its range.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct RangedEntry {
    pub value: f64,
    pub low: f64,
    pub high: f64,
    pub source: SourceEntry,
}

/// A number without a range.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct NumberEntry {
    pub value: f64,
    pub source: SourceEntry,
}

/// A curve with its low and high alternatives and its check value.
pub(crate) struct Spread {
    pub chosen: Curve,
    pub low: Curve,
    pub high: Curve,
    pub check: CheckValue,
}

impl CurveEntry {
    /// The curve, its alternatives and its check value.
    pub fn resolve(self, property: Property) -> Spread {
        let source = self.source.resolve();
        let points = match (self.points, self.standard) {
            (Some(points), None) => points,
            (None, Some(formula)) => {
                standard_between(&formula.name, property, formula.from_c, formula.to_c)
            }
            _ => panic!("a curve is given by points or by a standard"),
        };
        let curve = |points: Vec<(f64, f64)>| Curve {
            property: property.words().to_string(),
            unit: self.unit.clone(),
            points,
            source: source.clone(),
        };
        let edge = |given: &Option<Vec<(f64, f64)>>, sign: f64| {
            let percent = self.spread_percent.unwrap_or(0.0);
            let shifted = || {
                points
                    .iter()
                    .map(|p| (p.0, p.1 * (1.0 + sign * percent / 100.0)))
                    .collect()
            };
            with_note(
                curve(given.clone().unwrap_or_else(shifted)),
                &self.spread_note,
            )
        };
        Spread {
            low: edge(&self.low, -1.0),
            high: edge(&self.high, 1.0),
            check: self.check.resolve(property),
            chosen: curve(points.clone()),
        }
    }
}

fn with_note(mut curve: Curve, note: &Option<String>) -> Curve {
    if note.is_some() {
        curve.source.note.clone_from(note);
    }
    curve
}

impl CheckEntry {
    pub fn resolve(&self, property: Property) -> CheckValue {
        CheckValue {
            property,
            at_c: self.at_c,
            value: self.value,
            within_percent: self.within_percent,
            source: self.source.resolve(),
        }
    }
}

impl RangedEntry {
    pub fn resolve(&self) -> Ranged {
        Ranged {
            value: self.value,
            low: self.low,
            high: self.high,
            source: self.source.resolve(),
        }
    }
}

impl NumberEntry {
    pub fn resolve(&self) -> Sourced<f64> {
        let source: Source = self.source.resolve();
        Sourced {
            value: self.value,
            source,
        }
    }
}
