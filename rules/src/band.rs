//! Soak, heated and gradient control band by each rule that applies.

use quantity::Millimeters;
use serde::Serialize;

use crate::requirement::Clause;

/// The bands of a weld, side by side by rule.
#[derive(Clone, Debug, Serialize)]
pub struct Bands {
    /// Every rule that applies, in its own words and numbers.
    pub by_rule: Vec<BandRow>,
    /// Full width of the governing soak band, centered on the weld.
    pub soak: Governing,
    /// Full width of the governing heated band.
    pub heated: Governing,
    /// Full width of the governing gradient control band: what the blanket covers.
    pub gradient_control: Governing,
    /// Heating index of the governing bands, the lesser of both sides: the heated outside over twice the metal's section and
    /// the bore of the soak band (AWS D10.10). None for a branch.
    pub heating_index: Option<f64>,
}

/// What one rule asks for; `None` where it is silent.
#[derive(Clone, Debug, Serialize)]
pub struct BandRow {
    /// Full width of the soak band.
    pub soak: Option<Millimeters>,
    /// Full width of the heated band.
    pub heated: Option<Millimeters>,
    /// Full width of the gradient control band.
    pub gradient_control: Option<Millimeters>,
    /// The formula with its numbers put in.
    pub working: String,
    /// How each band came about, for whoever shows one alone.
    pub steps: BandSteps,
    /// Whether the rule binds this weld or stands beside it for comparison.
    pub binding: bool,
    /// Where it stands.
    pub clause: Clause,
}

/// The formula of each band with its numbers put in; `None` where the rule is silent.
#[derive(Clone, Debug, Default, Serialize)]
pub struct BandSteps {
    /// Of the soak band.
    pub soak: Option<String>,
    /// Of the heated band.
    pub heated: Option<String>,
    /// Of the gradient control band.
    pub gradient_control: Option<String>,
}

/// A width with the row that brought it.
#[derive(Clone, Debug, Serialize)]
pub struct Governing {
    /// Full width.
    pub width: Millimeters,
    /// Index of the row in `by_rule`.
    pub row: usize,
    /// Why this one.
    pub reason: String,
}
