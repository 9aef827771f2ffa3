//! Every key of the job file with its kind and its meaning: one table from which the JSON schema and the page
//! `docs/job-file.md` are made, and against which the reader is tested.

mod page;
mod reading_tables;
mod record_tables;
mod schema;
mod tables;

pub use page::page;
pub use schema::schema;
pub use tables::TABLES;

use quantity::Units;

use super::dimension::Dimension;

/// A table of the file.
#[derive(Debug)]
pub struct TableShape {
    /// Its path ("coil.section"); empty for the head of the file.
    pub path: &'static str,
    /// How often it stands.
    pub times: Times,
    /// What it is about.
    pub says: &'static str,
    /// Its keys.
    pub keys: &'static [Key],
}

/// How often a table stands in a file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Times {
    /// Once.
    Once,
    /// Once or not at all.
    AtMostOnce,
    /// Exactly twice, as `[[path]]`.
    Twice,
    /// Any number of times, as `[[path]]`.
    Many,
}

/// A key of a table.
#[derive(Clone, Copy, Debug)]
pub struct Key {
    /// The bare key; a measure may also carry its unit at the end.
    pub name: &'static str,
    /// What it holds.
    pub kind: Kind,
    /// Whether it must be there.
    pub must: bool,
    /// What it means.
    pub says: &'static str,
}

/// What a key holds.
#[derive(Clone, Copy, Debug)]
pub enum Kind {
    /// A quantity.
    Measure(Measure),
    /// A list of quantities as texts.
    Measures(Measure),
    /// A text.
    Text,
    /// A list of texts.
    Texts,
    /// A text or a bare year.
    Edition,
    /// One of some words.
    Word(&'static [&'static str]),
    /// A number within a range.
    Number(f64, f64),
    /// A position round the pipe.
    Clock,
    /// A date with time of day and zone.
    Moment,
    /// True or false.
    Truth,
    /// Weight percent by element.
    Percentages,
}

/// A quantity: a text with its unit under the bare key, or a number under a key that ends with the unit.
#[derive(Clone, Copy, Debug)]
pub struct Measure(&'static Dimension);

impl Measure {
    /// The name of the quantity.
    pub fn name(&self) -> &'static str {
        self.0.name
    }

    /// The ends that a key may carry.
    pub fn suffixes(&self) -> impl Iterator<Item = &'static str> {
        self.0
            .units
            .iter()
            .map(|u| u.suffix)
            .filter(|s| !s.is_empty())
    }

    /// A text as it may stand in a file.
    pub fn example(&self, units: Units) -> &'static str {
        self.0.example(units)
    }
}

impl Key {
    /// Every way in which the key may be spelled.
    pub fn spellings(&self) -> Vec<String> {
        match &self.kind {
            Kind::Measure(measure) => std::iter::once(String::new())
                .chain(measure.suffixes().map(str::to_owned))
                .map(|suffix| format!("{}{suffix}", self.name))
                .collect(),
            _ => vec![self.name.to_owned()],
        }
    }
}
