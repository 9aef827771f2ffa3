//! A number with the range in which it may lie.

use quantity::Source;

/// A number, how low and how high it may be, and where it comes from; the unit is that of the field that holds it.
#[derive(Clone, Debug, PartialEq)]
pub struct Ranged {
    /// The value to use.
    pub value: f64,
    /// How low it may be.
    pub low: f64,
    /// How high it may be.
    pub high: f64,
    /// Where it comes from.
    pub source: Source,
}
