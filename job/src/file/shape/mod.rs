//! Every key of the job file with its kind and its meaning: one table from which the JSON schema and the page
//! `docs/job-file.md` are made, and against which the reader is tested.

mod names;
mod page;
mod reading_tables;
mod record_tables;
mod schema;
mod tables;

pub use names::{
    capital, choice_words, heading, label, may_be_added, named, named_together, one_of, small,
    spoken, title,
};
pub use page::page;
pub use schema::schema;
pub use tables::TABLES;

use quantity::Units;

use super::dimension::Dimension;
pub use super::dimension::OfBare;

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

/// The key at a place of a file (`side[2].wall`), however it is spelled there.
pub fn key_at(place: &str) -> Option<&'static Key> {
    let (table, key) = place.rsplit_once('.').unwrap_or(("", place));
    let path: Vec<&str> = table
        .split('.')
        .map(|step| step.split('[').next().unwrap_or(step))
        .collect();
    let table = TABLES.iter().find(|one| one.path == path.join("."))?;
    let spelled = |one: &&Key| one.spellings().iter().any(|spelling| spelling == key);
    table.keys.iter().find(spelled)
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
    /// What may stand there, metric and in US units, where the example of its dimension does not fit; else empty.
    like: [&'static str; 2],
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

    pub(crate) fn dimension(&self) -> &'static Dimension {
        self.0
    }
}

impl Key {
    /// With an example of its own in both systems of units.
    const fn like(mut self, si: &'static str, us: &'static str) -> Key {
        self.like = [si, us];
        self
    }

    /// A text that may stand there, as a person types it; empty where there is none to show.
    pub fn example(&self, units: Units) -> &'static str {
        let [si, us] = self.like;
        let own = match units {
            Units::Si => si,
            Units::Us => us,
        };
        match &self.kind {
            _ if !own.is_empty() => own,
            Kind::Measure(measure) => measure.0.example(units),
            Kind::Clock => "6:30",
            Kind::Moment => "2026-03-04 15:20+01:00",
            Kind::Percentages => "C 0.10, Mn 0.45",
            Kind::Edition => "2022",
            _ => "",
        }
    }

    /// What a number alone means under the key; `None` where it is no measure.
    pub fn of_bare(&self, units: Units) -> Option<OfBare> {
        let Kind::Measure(measure) = &self.kind else {
            return None;
        };
        Some(OfBare::like(self.example(units), measure.dimension()))
    }

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
